using StagedMargins.Core.Entries.Accounts;
using StagedMargins.Storage.Ledger;

namespace StagedMargins.Storage.People;

/// <summary>Makes the fingerprints of credentials.</summary>
/// <param name="keys">The keys of the ledger.</param>
public sealed class CredentialPrints(LedgerKeys keys)
{
    /// <summary>The fingerprint of a secret that is set now.</summary>
    internal Credential Of(AccountSecret secret) => Of(secret, keys.CurrentId)!;

    /// <summary>True where a fingerprint is that of a secret.</summary>
    internal bool Matches(Credential print, AccountSecret secret) => print == Of(secret, print.KeyId);

    private Credential? Of(AccountSecret secret, string keyId) =>
        keys.Fingerprint(keyId, "Credential", values => values.Id(secret.OwnerId).Text(secret.Kind.ToString()).Text(secret.Value)) is { } print
            ? new Credential(secret.Kind, keyId, Convert.ToHexStringLower(print))
            : null;
}
