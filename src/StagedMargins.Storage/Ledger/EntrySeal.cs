using System.Security.Cryptography;
using StagedMargins.Core;
using StagedMargins.Core.Entries;

namespace StagedMargins.Storage.Ledger;

/// <summary>Seals entries of the ledger: HMAC-SHA-256 over one documented layout of bytes (docs/ledger.md), whichever database holds them.</summary>
public static class EntrySeal
{
    private const string Domain = "StagedMargins.Ledger";
    private const int Layout = 1;

    /// <summary>The seal of an entry, 32 bytes.</summary>
    /// <param name="entry">The entry.</param>
    /// <param name="previousHash">The seal of the entry before it; empty for the first of its stream.</param>
    /// <param name="keyId">The name of the key.</param>
    /// <param name="key">The key, 32 bytes.</param>
    public static byte[] Compute(LedgerEntry entry, ReadOnlySpan<byte> previousHash, string keyId, ReadOnlySpan<byte> key)
    {
        var layout = new LengthPrefixed()
            .Text(Domain)
            .Number(Layout)
            .Id(entry.ClinicId)
            .Text(entry.Stream)
            .Number(entry.Epoch)
            .Number(entry.Number)
            .Text(entry.Subject?.Kind)
            .Id(entry.Subject?.Id)
            .Number(entry.Subject?.Number)
            .Text(entry.Kind)
            .Number(entry.Form)
            .Id(entry.RequestId)
            .Number(Microseconds(entry.At))
            .Number(entry.At.OffsetMinutes)
            .Id(entry.By.Id)
            .Text(entry.By.Name)
            .Text(entry.Origin)
            .Bytes(entry.Body.Span)
            .Bytes(previousHash)
            .Text(keyId);
        return HMACSHA256.HashData(key, layout.Written);
    }

    /// <summary>True where an entry has the seal that its bytes and the key give.</summary>
    public static bool Holds(SealedEntry sealedEntry, ReadOnlySpan<byte> key) => CryptographicOperations.FixedTimeEquals(
        sealedEntry.Hash.Span, Compute(sealedEntry.Entry, sealedEntry.PreviousHash.Span, sealedEntry.KeyId, key));

    private static long Microseconds(ClinicalTime time) => (time.Utc.Ticks - DateTime.UnixEpoch.Ticks) / TimeSpan.TicksPerMicrosecond;
}
