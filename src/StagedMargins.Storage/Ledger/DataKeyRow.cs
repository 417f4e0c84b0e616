using System.Security.Cryptography;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StagedMargins.Core.Entries;

namespace StagedMargins.Storage.Ledger;

/// <summary>
/// The data key of a subject, wrapped by the service's key: the one part of the record that can be deleted, and with it what was
/// written about the subject in words.
/// </summary>
public sealed class DataKeyRow
{
    /// <summary>The clinic.</summary>
    public Guid ClinicId { get; init; }

    /// <summary>The kind of the subject, in one word.</summary>
    public string SubjectKind { get; init; } = "";

    /// <summary>The subject.</summary>
    public Guid SubjectId { get; init; }

    /// <summary>The name of the key of the ledger from which the wrapping key is derived.</summary>
    public string WrappedBy { get; init; } = "";

    /// <summary>The key, encrypted.</summary>
    public byte[] Wrapped { get; init; } = [];

    /// <summary>The fingerprint of the number by which a patient is found; null for other subjects.</summary>
    public byte[]? FoundBy { get; init; }

    /// <summary>The subject with its data key. A key that is damaged, or wrapped by one that is not at hand, opens nothing: the words are lost, the record stands.</summary>
    /// <param name="keys">The keys of the ledger, which wrap it.</param>
    internal SubjectKey Open(LedgerKeys keys)
    {
        DataKey? key = null;
        if (keys.FindWrapping(WrappedBy) is { } wrapping)
        {
            try
            {
                key = DataKey.Unwrap(Wrapped, ClinicId, SubjectKind, SubjectId, wrapping);
            }
            catch (CryptographicException)
            {
                key = null;
            }
        }

        return new SubjectKey(ClinicId, SubjectKind, SubjectId, key);
    }
}

internal sealed class DataKeyRowConfiguration : IEntityTypeConfiguration<DataKeyRow>
{
    private const int LongestWord = 40;

    public void Configure(EntityTypeBuilder<DataKeyRow> entity)
    {
        entity.ToTable("data_keys");
        entity.HasKey(row => new { row.ClinicId, row.SubjectKind, row.SubjectId });
        entity.Property(row => row.SubjectKind).HasMaxLength(LongestWord);
        entity.Property(row => row.WrappedBy).HasMaxLength(LongestWord);
        entity.Property(row => row.SubjectId).ValueGeneratedNever();

        // Two records of one patient may stand beside each other until somebody joins them.
        entity.HasIndex(row => new { row.ClinicId, row.FoundBy });
    }
}
