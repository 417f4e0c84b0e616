namespace StagedMargins.Core.Entries.Accounts;

/// <summary>Someone was added to the clinic.</summary>
/// <param name="Email">Address, with which they sign in.</param>
/// <param name="Name">Name shown to colleagues.</param>
/// <param name="SignInName">What they are found by at sign-in: their address, unless they are only known from an imported record.</param>
public sealed record PersonAdded(string Email, string Name, string SignInName) : AccountEvent
{
    /// <summary>Its kind.</summary>
    public static readonly EntryKind Kind = For<PersonAdded>("addPerson");

    /// <inheritdoc/>
    public override AccountState Apply(AccountState state) => state with { Email = Email, Name = Name, SignInName = SignInName };
}

/// <summary>What someone may do was changed.</summary>
/// <param name="Given">Roles they have from now on.</param>
/// <param name="Taken">Roles they have no longer.</param>
public sealed record RolesChanged(IReadOnlyList<string> Given, IReadOnlyList<string> Taken) : AccountEvent
{
    /// <summary>Its kind.</summary>
    public static readonly EntryKind Kind = For<RolesChanged>("changeRoles");

    /// <inheritdoc/>
    public override AccountState Apply(AccountState state) => state with { Roles = state.Roles.Except(Taken).Union(Given) };
}

/// <summary>An account was closed: nobody signs in with it.</summary>
public sealed record AccountDisabled : AccountEvent
{
    /// <summary>Its kind.</summary>
    public static readonly EntryKind Kind = For<AccountDisabled>("disableAccount");

    /// <inheritdoc/>
    public override AccountState Apply(AccountState state) => state with { IsDisabled = true };
}

/// <summary>An account was opened again.</summary>
public sealed record AccountEnabled : AccountEvent
{
    /// <summary>Its kind.</summary>
    public static readonly EntryKind Kind = For<AccountEnabled>("enableAccount");

    /// <inheritdoc/>
    public override AccountState Apply(AccountState state) => state with { IsDisabled = false };
}
