using System.Text.Json;
using StagedMargins.Core.Entries;
using StagedMargins.Core.Mapping;
using StagedMargins.Storage.Cases;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.Exchange;

/// <summary>Every entry of a case, in order, so that another record can decide each of them anew.</summary>
/// <param name="Format">The form of this file; see <see cref="CaseRecord.ThisFormat"/>.</param>
/// <param name="CaseId">The case's number in the service.</param>
/// <param name="CaseNumber">Its number in the clinic.</param>
/// <param name="People">Who acted or is named in it.</param>
/// <param name="Entries">Its entries, oldest first.</param>
internal sealed record CaseRecord(string? Format, Guid? CaseId, string? CaseNumber, RecordPerson?[]? People, RecordEntry?[]? Entries)
{
    /// <summary>The form that this program writes and reads.</summary>
    internal const string ThisFormat = "stagedmargins-case-record-2";

    /// <summary>The record of a case.</summary>
    /// <param name="surgicalCase">The case.</param>
    /// <param name="entries">Its entries, in order.</param>
    /// <param name="people">The people of the clinic.</param>
    /// <param name="photos">The files of its photos, by their digest.</param>
    internal static CaseRecord Of(SurgicalCase surgicalCase, IReadOnlyList<KnownEntry> entries, ClinicPeople people, IReadOnlyDictionary<string, byte[]> photos)
    {
        var named = entries.SelectMany(entry => entry.Event.NamedPeople().Append(entry.Written.ById)).Distinct().Order();
        return new CaseRecord(
            ThisFormat,
            surgicalCase.Id,
            surgicalCase.CaseNumber,
            [.. named.Select(id => new RecordPerson(id, people.EmailOf(id), people.NameOf(id)))],
            [.. entries.Select(entry => new RecordEntry(
                entry.Version,
                entry.Written.At.ToDateTimeOffset(),
                entry.Written.ById,
                entry.Event.EntryKind.Word,
                entry.Event.EntryKind.Form,
                JsonSerializer.Deserialize<JsonElement>(EntryJson.WriteOpen(entry.Event)),
                entry.Event is SitePhotoAdded photo ? photos[photo.Sha256] : null))]);
    }
}

/// <summary>Someone who acted or is named in a record.</summary>
/// <param name="Id">Their number there.</param>
/// <param name="Email">Their address, or the name of another system.</param>
/// <param name="Name">Their name.</param>
internal sealed record RecordPerson(Guid? Id, string? Email, string? Name);

/// <summary>One entry of a record.</summary>
/// <param name="Sequence">Its place, from 1.</param>
/// <param name="At">When it was written.</param>
/// <param name="By">By whom.</param>
/// <param name="What">Its kind.</param>
/// <param name="Form">The version of its form.</param>
/// <param name="Content">What was decided and said, with its words in the clear.</param>
/// <param name="Photo">The file of a photo.</param>
internal sealed record RecordEntry(long? Sequence, DateTimeOffset? At, Guid? By, string? What, int? Form, JsonElement? Content, byte[]? Photo);
