using System.Security.Cryptography;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StagedMargins.Core.Entries;

namespace StagedMargins.Storage.Ledger;

/// <summary>
/// What a key of the ledger gives for a known text, so that a wrong key under a right name is told from damaged entries.
/// </summary>
public sealed class KeyCheck
{
    private const string Domain = "StagedMargins.KeyCheck";

    /// <summary>The name of the key.</summary>
    public string KeyId { get; init; } = "";

    /// <summary>HMAC-SHA-256 by the key over the name of this check and the name of the key.</summary>
    public byte[] Check { get; init; } = [];

    /// <summary>The check of a key.</summary>
    internal static byte[] Compute(string keyId, ReadOnlySpan<byte> key) => HMACSHA256.HashData(key, new LengthPrefixed().Text(Domain).Text(keyId).Written);
}

/// <summary>Compares the keys at hand with those that the record was sealed with.</summary>
public static class KeyChecks
{
    /// <summary>Names of keys whose bytes are not those that the record knows under that name.</summary>
    /// <param name="db">The record.</param>
    /// <param name="keys">The keys at hand.</param>
    /// <param name="cancel">Ends the wait.</param>
    public static async Task<IReadOnlyList<string>> WrongKeysAsync(this ClinicContext db, LedgerKeys keys, CancellationToken cancel) =>
    [
        .. (await db.KeyChecks.AsNoTracking().ToListAsync(cancel))
            .Where(kept => keys.Find(kept.KeyId) is { } key && !CryptographicOperations.FixedTimeEquals(kept.Check, KeyCheck.Compute(kept.KeyId, key)))
            .Select(kept => kept.KeyId),
    ];

    /// <summary>Keeps the check of every key at hand that has none yet.</summary>
    public static async Task KeepAsync(this ClinicContext db, LedgerKeys keys, CancellationToken cancel)
    {
        var known = await db.KeyChecks.Select(kept => kept.KeyId).ToListAsync(cancel);
        db.AddRange(keys.Ids.Except(known).Select(id => new KeyCheck { KeyId = id, Check = KeyCheck.Compute(id, keys.Find(id)!) }));
        await db.SaveChangesAsync(cancel);
    }
}

internal sealed class KeyCheckConfiguration : IEntityTypeConfiguration<KeyCheck>
{
    public void Configure(EntityTypeBuilder<KeyCheck> entity)
    {
        entity.ToTable("ledger_key_checks");
        entity.HasKey(kept => kept.KeyId);
        entity.Property(kept => kept.KeyId).HasMaxLength(32);
    }
}
