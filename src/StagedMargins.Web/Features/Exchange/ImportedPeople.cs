using Microsoft.EntityFrameworkCore;
using StagedMargins.Core;
using StagedMargins.Core.Entries;
using StagedMargins.Storage;
using StagedMargins.Storage.People;

namespace StagedMargins.Web.Features.Exchange;

/// <summary>
/// The authors of a record from elsewhere as they are known here: someone of this clinic with the same address and a role in which
/// the record can be theirs, else an account under their name that is closed, has no password and is found by no sign-in.
/// </summary>
internal sealed class ImportedPeople
{
    private readonly Dictionary<Guid, Guid> here;

    private readonly IReadOnlyDictionary<Guid, CheckedPerson> there;

    private ImportedPeople(Dictionary<Guid, Guid> here, IReadOnlyDictionary<Guid, CheckedPerson> there, IReadOnlyList<Guid> added)
    {
        (this.here, this.there, Added) = (here, there, added);
    }

    /// <summary>Those for whom an account was made.</summary>
    internal IReadOnlyList<Guid> Added { get; }

    /// <summary>The number here of someone of the record.</summary>
    /// <exception cref="InvalidEntryException">They are not among its people.</exception>
    internal Guid Here(Guid there) => here.TryGetValue(there, out var id) ? id : throw new InvalidEntryException("content", "This names someone who is not among the record's people.");

    /// <summary>The address of someone of the record, there.</summary>
    internal string AddressOf(Guid id) => there[id].Email;

    /// <summary>Finds them, and makes accounts for those who are not known; saves nothing.</summary>
    internal static async Task<ImportedPeople> LoadAsync(ClinicContext db, Guid clinicId, CheckedRecord record, CancellationToken cancel)
    {
        var surgeons = SurgeonsOf(record);
        var known = await KnownAsync(db, clinicId, cancel);
        var (here, added) = (new Dictionary<Guid, Guid>(), new List<Guid>());
        foreach (var (there, person) in record.People)
        {
            var role = surgeons.Contains(person.Email) ? Roles.Surgeon : null;
            var match = known.Find(one => string.Equals(one.Email, person.Email, StringComparison.OrdinalIgnoreCase) && one.Has(role));
            here[there] = match?.Id ?? StableIds.Derive(clinicId, $"imported {person.Email.ToUpperInvariant()}");
            if (match is null && await db.Users.FindAsync([here[there]], cancel) is null)
            {
                db.Add(Closed(here[there], clinicId, person));
                added.Add(here[there]);
            }
        }

        return new ImportedPeople(here, record.People, added);
    }

    private static Person Closed(Guid id, Guid clinicId, CheckedPerson person)
    {
        var userName = $"imported-{id:N}";
        return new Person
        {
            Id = id,
            ClinicId = clinicId,
            UserName = userName,
            NormalizedUserName = userName.ToUpperInvariant(),
            Email = person.Email,

            // A sign-in looks for this one, and their own account elsewhere may have it.
            NormalizedEmail = null,
            DisplayName = person.Name,
            IsDisabled = true,
            SecurityStamp = id.ToString("N"),
        };
    }

    private static async Task<List<Known>> KnownAsync(ClinicContext db, Guid clinicId, CancellationToken cancel)
    {
        var rows = await (from person in db.Users.AsNoTracking()
                          where person.ClinicId == clinicId
                          join held in db.UserRoles on person.Id equals held.UserId
                          join role in db.Roles on held.RoleId equals role.Id
                          orderby person.Id
                          select new { person.Id, Email = person.Email!, Role = role.Name! }).ToListAsync(cancel);
        return [.. rows.GroupBy(row => (row.Id, row.Email)).Select(person => new Known(person.Key.Id, person.Key.Email, [.. person.Select(row => row.Role)]))];
    }

    // Whoever wrote what a surgeon alone may write, or is named: as the surgeon of the case, or a reader.
    private static HashSet<string> SurgeonsOf(CheckedRecord record) => new(
        record.Entries.Where(entry => entry.Event.EntryKind.SurgeonAlone).Select(entry => entry.By)
            .Concat(record.Entries.Where(entry => entry.Event is not CaseImported).SelectMany(entry => entry.Event.NamedPeople()))
            .Where(record.People.ContainsKey)
            .Select(id => record.People[id].Email),
        StringComparer.OrdinalIgnoreCase);

    private sealed record Known(Guid Id, string Email, string[] HeldRoles)
    {
        // Without a surgeon's part in it, the record can be the histotech's too.
        internal bool Has(string? role) => HeldRoles.Contains(Roles.Surgeon) || (role is null && HeldRoles.Contains(Roles.Histotech));
    }
}
