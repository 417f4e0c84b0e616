namespace StagedMargins.Core.Entries.Accounts;

/// <summary>A credential was set.</summary>
/// <param name="Credential">Its fingerprint.</param>
public sealed record CredentialSet(Credential Credential) : AccountEvent
{
    /// <summary>Its kind.</summary>
    public static readonly EntryKind Kind = For<CredentialSet>("setCredential");

    /// <inheritdoc/>
    public override AccountState Apply(AccountState state) => state with { Credentials = state.Credentials.Add(Credential) };
}

/// <summary>A credential was removed, replaced or used up.</summary>
/// <param name="Credential">Its fingerprint.</param>
public sealed record CredentialRemoved(Credential Credential) : AccountEvent
{
    /// <summary>Its kind.</summary>
    public static readonly EntryKind Kind = For<CredentialRemoved>("removeCredential");

    // By its fingerprint under whichever key it was set with: the entry that sets and the one that removes can be years apart.
    /// <inheritdoc/>
    public override AccountState Apply(AccountState state) => state with { Credentials = state.Credentials.Remove(Credential) };
}

/// <summary>A time code is asked for at sign-in from now on.</summary>
public sealed record SecondFactorTurnedOn : AccountEvent
{
    /// <summary>Its kind.</summary>
    public static readonly EntryKind Kind = For<SecondFactorTurnedOn>("turnSecondFactorOn");

    /// <inheritdoc/>
    public override AccountState Apply(AccountState state) => state with { AsksSecondFactor = true };
}

/// <summary>No time code is asked for at sign-in any more.</summary>
public sealed record SecondFactorTurnedOff : AccountEvent
{
    /// <summary>Its kind.</summary>
    public static readonly EntryKind Kind = For<SecondFactorTurnedOff>("turnSecondFactorOff");

    /// <inheritdoc/>
    public override AccountState Apply(AccountState state) => state with { AsksSecondFactor = false };
}
