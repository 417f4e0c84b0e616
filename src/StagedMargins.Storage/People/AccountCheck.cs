using System.Text.Json;
using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Core.Entries;
using StagedMargins.Core.Entries.Accounts;
using StagedMargins.Storage.Ledger;

namespace StagedMargins.Storage.People;

/// <summary>Compares accounts and what people sign in with to the entries that say who set them.</summary>
/// <param name="prints">Makes the fingerprints of credentials.</param>
public sealed class AccountCheck(CredentialPrints prints)
{
    /// <summary>What is not as the entries of the clinic in scope say.</summary>
    /// <param name="db">The record.</param>
    /// <param name="clinicId">The clinic.</param>
    /// <param name="cancel">Ends the check.</param>
    public async Task<IReadOnlyList<LedgerFault>> FaultsAsync(ClinicContext db, Guid clinicId, CancellationToken cancel)
    {
        var faults = new List<LedgerFault>();
        var entries = await db.Ledger.AsNoTracking().Where(row => row.SubjectKind == EntrySubjects.Person).OrderBy(row => row.SubjectNumber).ToListAsync(cancel);
        var histories = entries.GroupBy(row => row.SubjectId!.Value).ToDictionary(one => one.Key, one => one.ToList());
        var ofClinic = db.Users.AsNoTracking().Where(person => person.ClinicId == clinicId);
        var people = await ofClinic.ToListAsync(cancel);
        var roles = (await (from person in ofClinic
                            join held in db.UserRoles on person.Id equals held.UserId
                            join role in db.Roles on held.RoleId equals role.Id
                            select new { person.Id, role.Name }).ToListAsync(cancel)).ToLookup(held => held.Id, held => held.Name!);
        var secrets = await SecretsAsync(db, ofClinic.Select(person => person.Id), cancel);
        foreach (var person in people)
        {
            var ofPerson = AccountSecrets.In(person).Concat(secrets[person.Id]).ToList();
            if (Fault(person, histories.GetValueOrDefault(person.Id) ?? [], [.. roles[person.Id]], ofPerson) is { } why)
            {
                faults.Add(new LedgerFault(histories.GetValueOrDefault(person.Id)?.Count ?? 0, $"person {person.Id}", why));
            }
        }

        faults.AddRange(histories.Keys.Except(people.Select(person => person.Id)).Select(id => new LedgerFault(histories[id].Count, $"person {id}", "The account is gone.")));
        return faults;
    }

    private string? Fault(Person person, List<LedgerRow> entries, IReadOnlyCollection<string> roles, IReadOnlyList<AccountSecret> secrets)
    {
        AccountState state;
        try
        {
            state = AccountEntries.StateOf(entries);
        }
        catch (JsonException)
        {
            return "An entry of this account can't be read.";
        }

        return state switch
        {
            _ when entries.Count == 0 => "The account was added past the program: no entry says so.",
            _ when state.Email != person.Email || state.Name != person.DisplayName || state.SignInName != person.UserName || !IsFoundBy(person) => "Name or address is another than its entries say.",
            _ when state.IsDisabled != person.IsDisabled => "Whether the account is closed is not what its entries say.",
            _ when !state.Roles.SetEquals(roles) => "The roles are others than the entries say.",
            _ when state.AsksSecondFactor != person.TwoFactorEnabled => "Whether a second factor is asked for is not what the entries say.",
            _ => FaultOf(state, secrets),
        };
    }

    private string? FaultOf(AccountState state, IReadOnlyList<AccountSecret> secrets)
    {
        var unknown = secrets.FirstOrDefault(secret => !state.Credentials.Any(print => prints.Matches(print, secret)));
        var missing = state.Credentials.FirstOrDefault(print => !secrets.Any(secret => prints.Matches(print, secret)));
        return unknown is not null ? $"A credential ({unknown.Kind}) was set past the program: no entry says so."
            : missing is not null ? $"A credential ({missing.Kind}) was removed past the program: no entry says so."
            : null;
    }

    // At sign-in people are found by these. Nobody finds by an address who is only known from an imported record.
    private static bool IsFoundBy(Person person)
    {
        var name = person.UserName!.ToUpperInvariant();
        return person.NormalizedUserName == name && person.NormalizedEmail == (person.UserName == person.Email ? name : null);
    }

    private static async Task<ILookup<Guid, AccountSecret>> SecretsAsync(ClinicContext db, IQueryable<Guid> people, CancellationToken cancel)
    {
        List<object> rows =
        [
            .. await db.UserTokens.AsNoTracking().Where(row => people.Contains(row.UserId)).ToListAsync(cancel),
            .. await db.UserLogins.AsNoTracking().Where(row => people.Contains(row.UserId)).ToListAsync(cancel),
            .. await db.Set<IdentityUserPasskey<Guid>>().AsNoTracking().Where(row => people.Contains(row.UserId)).ToListAsync(cancel),
        ];
        return rows.SelectMany(AccountSecrets.In).ToLookup(secret => secret.OwnerId);
    }
}
