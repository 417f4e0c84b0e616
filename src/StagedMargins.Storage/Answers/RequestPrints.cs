using System.Security.Cryptography;
using StagedMargins.Core.Entries;
using StagedMargins.Storage.Ledger;

namespace StagedMargins.Storage.Answers;

/// <summary>Makes the fingerprints of requests: HMAC-SHA-256 under a key derived from a key of the ledger, from which nobody can guess what was sent.</summary>
/// <param name="keys">The keys of the ledger.</param>
public sealed class RequestPrints(LedgerKeys keys)
{
    private const string Domain = "StagedMargins.Request";

    /// <summary>The fingerprint of a request that is sent now.</summary>
    /// <param name="request">What makes it this request and no other.</param>
    public string Of(string request) => Of(request, keys.CurrentId)!;

    /// <summary>True where a fingerprint is that of a request.</summary>
    public bool Matches(string print, string request) => print == Of(request, print[..Math.Max(0, print.IndexOf(':', StringComparison.Ordinal))]);

    private string? Of(string request, string keyId) => keys.FindRequestKey(keyId) is { } key
        ? $"{keyId}:{Convert.ToHexStringLower(HMACSHA256.HashData(key, new LengthPrefixed().Text(Domain).Text(request).Written))}"
        : null;
}
