using Microsoft.EntityFrameworkCore;
using StagedMargins.Core.Entries;
using StagedMargins.Core.Entries.Accounts;
using StagedMargins.Storage.Ledger;

namespace StagedMargins.Storage.People;

/// <summary>Accounts made from their entries.</summary>
public static class AccountEntries
{
    /// <summary>The account that its entries make, and how many there are.</summary>
    internal static async Task<(AccountState State, int Count)> AccountAsync(this ClinicContext db, Guid personId, CancellationToken cancel)
    {
        var rows = await db.Ledger.IgnoreQueryFilters().AsNoTracking()
            .Where(row => row.SubjectKind == EntrySubjects.Person && row.SubjectId == personId).OrderBy(row => row.SubjectNumber).ToListAsync(cancel);
        return (StateOf(rows), rows.Count);
    }

    /// <summary>The account that entries make.</summary>
    /// <param name="rows">Its entries, in order.</param>
    /// <exception cref="System.Text.Json.JsonException">One of them can't be read.</exception>
    internal static AccountState StateOf(IEnumerable<LedgerRow> rows) =>
        rows.Aggregate(AccountState.Empty, (state, row) => row.ReadPlain<AccountEvent>(EntrySubjects.Person).Apply(state));

    /// <summary>The events that say what is about to be saved of an account.</summary>
    internal static IEnumerable<AccountEvent> EventsOf(AccountChange change, AccountState before, IReadOnlyDictionary<Guid, string> roleNames, CredentialPrints prints)
    {
        if (change.Added is { } person)
        {
            yield return new PersonAdded(person.Email!, person.DisplayName, person.UserName!);
        }

        if (change.RolesGiven.Count + change.RolesTaken.Count > 0)
        {
            yield return new RolesChanged(Names(change.RolesGiven), Names(change.RolesTaken));
        }

        if (change.Disabled is { } disabled)
        {
            yield return disabled ? new AccountDisabled() : new AccountEnabled();
        }

        foreach (var secret in change.Removed)
        {
            yield return new CredentialRemoved(
                before.Credentials.FirstOrDefault(print => prints.Matches(print, secret)) ?? prints.Of(secret));
        }

        foreach (var secret in change.Set)
        {
            yield return new CredentialSet(prints.Of(secret));
        }

        if (change.SecondFactor is { } asks)
        {
            yield return asks ? new SecondFactorTurnedOn() : new SecondFactorTurnedOff();
        }

        IReadOnlyList<string> Names(IEnumerable<Guid> ids) => [.. ids.Select(id => roleNames[id]).Order(StringComparer.Ordinal)];
    }
}
