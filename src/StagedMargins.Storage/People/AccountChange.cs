using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.ChangeTracking;

namespace StagedMargins.Storage.People;

/// <summary>What is about to be saved of one account.</summary>
/// <param name="PersonId">Whose it is.</param>
/// <param name="Added">The person, where they are new.</param>
/// <param name="Disabled">Whether the account is closed from now on; null where that stays.</param>
/// <param name="SecondFactor">Whether a second factor is asked for from now on; null where that stays.</param>
/// <param name="RolesGiven">Ids of roles that are given.</param>
/// <param name="RolesTaken">Ids of roles that are taken.</param>
/// <param name="Removed">Secrets that go.</param>
/// <param name="Set">Secrets that come.</param>
internal sealed record AccountChange(
    Guid PersonId,
    Person? Added,
    bool? Disabled,
    bool? SecondFactor,
    IReadOnlyList<Guid> RolesGiven,
    IReadOnlyList<Guid> RolesTaken,
    IReadOnlyList<AccountSecret> Removed,
    IReadOnlyList<AccountSecret> Set)
{
    /// <summary>True where none of it is on record: a failed attempt that was counted, a code that was used up by time.</summary>
    internal bool IsEmpty => Added is null && Disabled is null && SecondFactor is null && RolesGiven.Count + RolesTaken.Count + Removed.Count + Set.Count == 0;

    /// <summary>What is about to be saved of each account.</summary>
    internal static IEnumerable<AccountChange> In(IReadOnlyList<EntityEntry> entries) => entries
        .Select(entry => (Entry: entry, Owner: OwnerOf(entry.Entity)))
        .Where(pair => pair.Owner is not null)
        .GroupBy(pair => pair.Owner!.Value, pair => pair.Entry)
        .Select(account => Of(account.Key, [.. account]))
        .Where(change => !change.IsEmpty);

    private static Guid? OwnerOf(object row) => row switch
    {
        Person person => person.Id,
        IdentityUserRole<Guid> role => role.UserId,
        IdentityUserToken<Guid> token => token.UserId,
        IdentityUserPasskey<Guid> passkey => passkey.UserId,
        IdentityUserLogin<Guid> login => login.UserId,
        _ => null,
    };

    private static AccountChange Of(Guid personId, IReadOnlyList<EntityEntry> entries)
    {
        var person = entries.FirstOrDefault(entry => entry.Entity is Person);
        var before = entries.SelectMany(Before).ToHashSet();
        var after = entries.Where(entry => entry.State != EntityState.Deleted).SelectMany(entry => AccountSecrets.In(entry.Entity)).ToHashSet();
        return new AccountChange(
            personId,
            person?.State == EntityState.Added ? (Person)person.Entity : null,
            Turned(person, nameof(Person.IsDisabled)),
            Turned(person, nameof(Person.TwoFactorEnabled)),
            [.. Roles(entries, EntityState.Added)],
            [.. Roles(entries, EntityState.Deleted)],
            [.. before.Except(after)],
            [.. after.Except(before)]);
    }

    // The part of a passkey that is a secret never changes, and lies in a part of its row that original values don't hold.
    private static IEnumerable<AccountSecret> Before(EntityEntry entry) => entry switch
    {
        { State: EntityState.Added } => [],
        { Entity: IdentityUserPasskey<Guid> } => AccountSecrets.In(entry.Entity),
        _ => AccountSecrets.In(entry.OriginalValues.ToObject()),
    };

    private static bool? Turned(EntityEntry? person, string property)
    {
        if (person?.Property(property) is not { } flag)
        {
            return null;
        }

        var before = person.State != EntityState.Added && (bool)flag.OriginalValue!;
        var now = (bool)flag.CurrentValue!;
        return now == before ? null : now;
    }

    private static IEnumerable<Guid> Roles(IEnumerable<EntityEntry> entries, EntityState state) =>
        entries.Where(entry => entry.State == state).Select(entry => entry.Entity).OfType<IdentityUserRole<Guid>>().Select(role => role.RoleId);
}
