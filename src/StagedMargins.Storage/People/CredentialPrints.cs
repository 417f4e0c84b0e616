using System.Security.Cryptography;
using StagedMargins.Core.Entries;
using StagedMargins.Core.Entries.Accounts;
using StagedMargins.Storage.Ledger;

namespace StagedMargins.Storage.People;

/// <summary>Makes the fingerprints of credentials: HMAC-SHA-256 under a key derived from a key of the ledger.</summary>
/// <param name="keys">The keys of the ledger.</param>
public sealed class CredentialPrints(LedgerKeys keys)
{
    private const string Domain = "StagedMargins.Credential";

    /// <summary>The fingerprint of a secret that is set now.</summary>
    internal Credential Of(AccountSecret secret) => Of(secret, keys.CurrentId)!;

    /// <summary>True where a fingerprint is that of a secret.</summary>
    internal bool Matches(Credential print, AccountSecret secret) => print == Of(secret, print.KeyId);

    private Credential? Of(AccountSecret secret, string keyId) => keys.FindCredentialKey(keyId) is { } key
        ? new Credential(secret.Kind, keyId, Convert.ToHexStringLower(HMACSHA256.HashData(
            key, new LengthPrefixed().Text(Domain).Id(secret.OwnerId).Text(secret.Kind.ToString()).Text(secret.Value).Written)))
        : null;
}
