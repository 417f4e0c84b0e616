namespace StagedMargins.Core.Entries.Accounts;

/// <summary>With what someone proves who they are.</summary>
public enum CredentialKind
{
    /// <summary>A password.</summary>
    Password,

    /// <summary>A one-time code with which a password is set.</summary>
    PasswordCode,

    /// <summary>The key of an authenticator app.</summary>
    Authenticator,

    /// <summary>A code that stands in for the app once.</summary>
    RecoveryCode,

    /// <summary>A passkey.</summary>
    Passkey,

    /// <summary>The link to a subject of the organisation's provider.</summary>
    OrganisationSignIn,

    /// <summary>The secret of another system's token.</summary>
    Token,
}

/// <summary>A credential by its fingerprint, from which nobody can make it: one that no entry knows was not set by the program.</summary>
/// <param name="Kind">What it is.</param>
/// <param name="KeyId">The key of the ledger from which the key of the fingerprint is derived.</param>
/// <param name="Fingerprint">The fingerprint, hexadecimal.</param>
public sealed record Credential(CredentialKind Kind, string KeyId, string Fingerprint);
