using StagedMargins.Storage.Ledger;

namespace StagedMargins.Storage.Answers;

/// <summary>Makes the fingerprints of requests.</summary>
/// <param name="keys">The keys of the ledger.</param>
public sealed class RequestPrints(LedgerKeys keys)
{
    /// <summary>The fingerprint of a request that is sent now.</summary>
    /// <param name="request">What makes it this request and no other.</param>
    public string Of(string request) => Of(request, keys.CurrentId)!;

    /// <summary>True where a fingerprint is that of a request.</summary>
    public bool Matches(string print, string request) => print == Of(request, print[..Math.Max(0, print.IndexOf(':', StringComparison.Ordinal))]);

    private string? Of(string request, string keyId) =>
        keys.Fingerprint(keyId, "Request", values => values.Text(request)) is { } print ? $"{keyId}:{Convert.ToHexStringLower(print)}" : null;
}
