using Microsoft.EntityFrameworkCore;
using StagedMargins.Core;
using StagedMargins.Storage;
using StagedMargins.Storage.Ledger;
using StagedMargins.Storage.People;

namespace StagedMargins.Web.Writing;

/// <summary>Who acts in the clinic in scope: its people, and other systems with tokens of their own.</summary>
public sealed class ClinicPeople
{
    private readonly Dictionary<Guid, string> names;
    private readonly Dictionary<Guid, string> displayNames;
    private readonly Dictionary<string, Guid> surgeons;

    private ClinicPeople(Dictionary<Guid, string> names, Dictionary<Guid, string> displayNames, Dictionary<string, Guid> surgeons)
    {
        (this.names, this.displayNames, this.surgeons) = (names, displayNames, surgeons);
    }

    /// <summary>Reads them.</summary>
    public static async Task<ClinicPeople> LoadAsync(ClinicContext db, Guid clinicId, CancellationToken cancel)
    {
        // One statement for both, for every write and every page asks.
        var all = await db.Users.Where(person => person.ClinicId == clinicId)
            .Select(person => new
            {
                person.Id,
                Name = person.Email!,
                DisplayName = (string?)person.DisplayName,
                IsSurgeon = !person.IsDisabled
                    && db.UserRoles.Any(held => held.UserId == person.Id && db.Roles.Any(role => role.Id == held.RoleId && role.Name == Roles.Surgeon)),
            })
            .Concat(db.ApiTokens.Where(token => token.ClinicId == clinicId).Select(token => new { token.Id, token.Name, DisplayName = (string?)null, IsSurgeon = false }))
            .ToListAsync(cancel);
        return new ClinicPeople(
            all.ToDictionary(one => one.Id, one => one.Name),
            all.Where(one => one.DisplayName is not null).ToDictionary(one => one.Id, one => one.DisplayName!),
            all.Where(one => one.IsSurgeon).ToDictionary(one => one.Name, one => one.Id, StringComparer.OrdinalIgnoreCase));
    }

    /// <summary>The same people, each of whom counts as a surgeon at work: to repeat what was accepted when they may have been.</summary>
    public ClinicPeople AsOnceAccepted() => new(names, displayNames, names.ToDictionary(one => one.Value, one => one.Key, StringComparer.OrdinalIgnoreCase));

    /// <summary>Addresses of the surgeons, in order.</summary>
    public IEnumerable<string> Surgeons => surgeons.Keys.Order(StringComparer.OrdinalIgnoreCase);

    /// <summary>The address of someone, or the name of another system; null for null.</summary>
    public string? EmailOf(Guid? id) => id is { } known && names.TryGetValue(known, out var name) ? name : null;

    /// <summary>Someone as the author of an entry, by the name and address of now.</summary>
    /// <exception cref="ClinicChangedException">They came after these people were read.</exception>
    public LedgerAuthor AuthorOf(Guid id) => (names.GetValueOrDefault(id), displayNames.GetValueOrDefault(id)) switch
    {
        (null, _) => throw new ClinicChangedException(),
        (var system, null) => new LedgerAuthor(id, system),
        var (address, name) => LedgerAuthor.Person(id, name, address),
    };

    /// <summary>The name of someone; null for another system, and for null.</summary>
    public string? NameOf(Guid? id) => id is { } known ? displayNames.GetValueOrDefault(known) : null;

    /// <summary>Whose an address is, at work here or no longer; null where it is nobody's.</summary>
    public Guid? IdOf(string email) => names.Where(name => string.Equals(name.Value, email, StringComparison.OrdinalIgnoreCase)).Select(name => (Guid?)name.Key).FirstOrDefault();

    /// <summary>The surgeon of an address.</summary>
    /// <param name="field">The field that holds the address.</param>
    /// <param name="email">The address.</param>
    /// <exception cref="InvalidEntryException">Nobody of that address is a surgeon at work here.</exception>
    public Guid SurgeonOf(string field, string email) => surgeons.TryGetValue(email.Trim(), out var id)
        ? id
        : throw new InvalidEntryException(field, "Not the e-mail address of a surgeon in this clinic.");
}
