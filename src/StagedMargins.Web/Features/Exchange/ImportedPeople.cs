using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Storage;
using StagedMargins.Storage.People;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.Exchange;

/// <summary>
/// The authors of a record from elsewhere as they are known here: someone of this clinic with the same address and a role in which
/// the record can be theirs, else an account under their name that is closed, has no password and is found by no sign-in.
/// </summary>
internal sealed class ImportedPeople
{
    // What a surgeon alone enters; see the policies of the routes.
    private static readonly HashSet<string> OfSurgeons =
    [
        "amendReading", "countersign", "endCase", "measureDefect", "voidAnaesthetic", "recordRepair", "recordVisit", "reportPermanentSection",
        "askSecondRead", "answerSecondRead", "giveBackSecondRead",
    ];

    private readonly Dictionary<Guid, Guid> here;

    private ImportedPeople(Dictionary<Guid, Guid> here, ClinicPeople names, IReadOnlyList<string> added)
    {
        (this.here, Names, Added) = (here, names, added);
    }

    /// <summary>Their addresses, by which the entries name them.</summary>
    internal ClinicPeople Names { get; }

    /// <summary>Addresses of those for whom an account was made.</summary>
    internal IReadOnlyList<string> Added { get; }

    /// <summary>The number here of someone of the record.</summary>
    internal Guid Here(Guid there) => here[there];

    /// <summary>Finds them, and makes accounts for those who are not known; saves nothing.</summary>
    internal static async Task<ImportedPeople> LoadAsync(ClinicContext db, Guid clinicId, CheckedRecord record, CancellationToken cancel)
    {
        var surgeons = SurgeonsOf(record);
        var known = await KnownAsync(db, clinicId, cancel);
        var (here, added) = (new Dictionary<Guid, Guid>(), new List<string>());
        foreach (var (there, person) in record.People)
        {
            var role = surgeons.Contains(person.Email) ? Roles.Surgeon : null;
            var match = known.Find(one => string.Equals(one.Email, person.Email, StringComparison.OrdinalIgnoreCase) && one.Has(role));
            here[there] = match?.Id ?? StableIds.Derive(clinicId, $"imported {person.Email.ToUpperInvariant()}");
            if (match is null && await db.Users.FindAsync([here[there]], cancel) is null)
            {
                db.Add(Closed(here[there], clinicId, person));
                added.Add(person.Email);
            }
        }

        var byEmail = record.People.GroupBy(one => one.Value.Email, StringComparer.OrdinalIgnoreCase).ToDictionary(group => group.Key, group => here[group.First().Key]);
        var names = record.People.GroupBy(one => here[one.Key]).ToDictionary(group => group.Key, group => group.First().Value.Email);
        return new ImportedPeople(here, ClinicPeople.Of(names, byEmail), added);
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

    // Whoever entered what a surgeon alone enters, or is named as the surgeon of the case or of a reading.
    private static HashSet<string> SurgeonsOf(CheckedRecord record) => new(
        record.Entries.Where(entry => OfSurgeons.Contains(entry.What) || (entry.What == "recordReading" && !Named(entry.Content).Any()))
            .Select(entry => record.People[entry.By].Email)
            .Concat(record.Entries.SelectMany(entry => Named(entry.Content))),
        StringComparer.OrdinalIgnoreCase);

    private static IEnumerable<string> Named(JsonElement content) => content.ValueKind != JsonValueKind.Object ? [] : content.EnumerateObject().SelectMany(field => field switch
    {
        { Value.ValueKind: JsonValueKind.Object } => Named(field.Value),
        { Name: "surgeonEmail" or "readerEmail", Value.ValueKind: JsonValueKind.String } => [field.Value.GetString()!.Trim()],
        _ => [],
    });

    private sealed record Known(Guid Id, string Email, string[] HeldRoles)
    {
        // Without a surgeon's part in it, the record can be the histotech's too.
        internal bool Has(string? role) => HeldRoles.Contains(Roles.Surgeon) || (role is null && HeldRoles.Contains(Roles.Histotech));
    }
}
