using System.Collections.Immutable;

namespace StagedMargins.Core.Entries.Accounts;

/// <summary>Someone's account as its entries make it.</summary>
/// <param name="Email">Address, with which they sign in; empty before the first entry.</param>
/// <param name="Name">Name shown to colleagues.</param>
/// <param name="SignInName">What they are found by at sign-in; see <see cref="PersonAdded"/>.</param>
/// <param name="Roles">What they may do.</param>
/// <param name="IsDisabled">True where nobody signs in with it.</param>
/// <param name="AsksSecondFactor">True where a time code is asked for at sign-in.</param>
/// <param name="Credentials">What they sign in with.</param>
public sealed record AccountState(
    string Email, string Name, string SignInName, ImmutableSortedSet<string> Roles, bool IsDisabled, bool AsksSecondFactor, ImmutableHashSet<Credential> Credentials)
{
    /// <summary>An account without entries.</summary>
    public static readonly AccountState Empty = new("", "", "", ImmutableSortedSet.Create<string>(StringComparer.Ordinal), false, false, []);
}
