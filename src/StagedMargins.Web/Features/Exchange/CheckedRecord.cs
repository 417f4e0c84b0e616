using System.Text.Json;
using StagedMargins.Core;
using StagedMargins.Core.Entries;
using StagedMargins.Core.Mapping;
using StagedMargins.Web.Problems;

namespace StagedMargins.Web.Features.Exchange;

/// <summary>A record from elsewhere with everything that must be there; whether its entries can be is for the case to say.</summary>
/// <param name="CaseId">The case's number in the service.</param>
/// <param name="CaseNumber">Its number in the clinic.</param>
/// <param name="People">Who acted or is named in it, by their number there.</param>
/// <param name="Entries">What was entered, numbered from 1 without a gap.</param>
internal sealed record CheckedRecord(Guid CaseId, string CaseNumber, IReadOnlyDictionary<Guid, CheckedPerson> People, IReadOnlyList<CheckedEntry> Entries)
{
    private const int MostPeople = 200;
    private const int LongestEmail = 256;
    private const int LongestName = 100;
    private const int LongestWhat = 40;

    // A clock that is a little ahead is no fault of the record.
    private static readonly TimeSpan Ahead = TimeSpan.FromMinutes(5);

    /// <summary>Checks a record.</summary>
    /// <param name="record">The record as it was read.</param>
    /// <param name="now">Now; nothing of it was entered later.</param>
    /// <exception cref="InvalidRequestException">A field is missing or at fault.</exception>
    internal static CheckedRecord Of(CaseRecord record, DateTimeOffset now)
    {
        var errors = new FieldErrors();
        if (record.Format != CaseRecord.ThisFormat)
        {
            errors.Add("format", $"This program imports records of format {CaseRecord.ThisFormat}.");
            errors.ThrowIfAny();
        }

        var caseId = errors.Collect(null, () => Required("caseId", record.CaseId));
        var number = errors.Collect(null, () => SurgicalCase.CheckNumber(record.CaseNumber ?? ""));
        var people = errors.Collect(null, () => PeopleOf(record.People ?? []));
        errors.ThrowIfAny();
        var entries = (record.Entries ?? []).Select((entry, i) => errors.Collect(FormattableString.Invariant($"entries[{i}]"), () => EntryOf(entry, i + 1, people!, now))).ToList();
        if (entries.Count == 0)
        {
            errors.Add("entries", "Required: at least the entry that opens the case.");
        }

        errors.ThrowIfAny();
        return new CheckedRecord(caseId, number!, people!, entries!);
    }

    private static Dictionary<Guid, CheckedPerson> PeopleOf(RecordPerson?[] people)
    {
        if (people.Length > MostPeople)
        {
            throw new InvalidEntryException("people", $"At most {MostPeople}.");
        }

        var known = new Dictionary<Guid, CheckedPerson>();
        foreach (var person in people)
        {
            var email = FreeText.Required("people.email", person?.Email, LongestEmail);
            if (!known.TryAdd(Required("people.id", person!.Id), new CheckedPerson(email, FreeText.Optional("people.name", person.Name, LongestName) ?? email[..Math.Min(email.Length, LongestName)])))
            {
                throw new InvalidEntryException("people.id", "Someone is listed twice.");
            }
        }

        return known;
    }

    private static CheckedEntry EntryOf(RecordEntry? entry, int sequence, Dictionary<Guid, CheckedPerson> people, DateTimeOffset now)
    {
        if (entry is null || entry.Sequence != sequence)
        {
            throw new InvalidEntryException("sequence", "Entries must be numbered from 1 without gaps.");
        }

        var at = ClinicalTime.From(Required("at", entry.At), "at");
        if (at.Utc > (now + Ahead).UtcDateTime)
        {
            throw new InvalidEntryException("at", "This time is in the future.");
        }

        var by = Required("by", entry.By);
        return people.ContainsKey(by)
            ? new CheckedEntry(sequence, at, by, EventOf(entry), entry.Photo)
            : throw new InvalidEntryException("by", "The author is not among the record's people.");
    }

    // A kind that is not here was made by another version of the program.
    private static CaseEvent EventOf(RecordEntry entry)
    {
        var word = FreeText.Required("what", entry.What, LongestWhat);
        if (CaseEntryKind.Find(word) is not { } kind || kind.Form != Required("form", entry.Form))
        {
            throw new InvalidEntryException("what", "This version can't import an entry of this kind. Nothing was imported; use the version of the program that made the export.");
        }

        try
        {
            return EntryJson.ReadOpen(kind, JsonSerializer.SerializeToUtf8Bytes(Required("content", entry.Content)));
        }
        catch (Exception e) when (e is JsonException or FormatException or InvalidEntryException or ArgumentOutOfRangeException)
        {
            throw new InvalidEntryException(
                e is JsonException { Path: { Length: > 2 } path } ? $"content.{path[2..]}" : "content",
                "This is not what this program writes here: the file was changed or made by another version.");
        }
    }

    private static T Required<T>(string field, T? value)
        where T : struct => value ?? throw new InvalidEntryException(field, "Required.");
}

/// <summary>Someone of a record.</summary>
/// <param name="Email">Their address, or the name of another system.</param>
/// <param name="Name">Their name.</param>
internal sealed record CheckedPerson(string Email, string Name);

/// <summary>One entry of a record; see <see cref="RecordEntry"/>.</summary>
internal sealed record CheckedEntry(int Sequence, ClinicalTime At, Guid By, CaseEvent Event, byte[]? Photo);
