using System.Text.Json;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Risk;
using StagedMargins.Storage.History;
using StagedMargins.Web.Contract;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.Exchange;

/// <summary>Everything that was entered in a case, in order, so that another record can enter it again.</summary>
/// <param name="Format">The form of this file; see <see cref="CaseRecord.ThisFormat"/>.</param>
/// <param name="CaseId">The case's number in the service.</param>
/// <param name="CaseNumber">Its number in the clinic.</param>
/// <param name="OverlapMinutes">The clinic's overlap when it was exported, clock minutes on each side.</param>
/// <param name="People">Who acted or is named in it.</param>
/// <param name="Entries">What was entered, oldest first.</param>
internal sealed record CaseRecord(string? Format, Guid? CaseId, string? CaseNumber, int? OverlapMinutes, RecordPerson?[]? People, RecordEntry?[]? Entries)
{
    /// <summary>The form that this program writes and reads.</summary>
    internal const string ThisFormat = "stagedmargins-case-record-1";

    /// <summary>The record of a case.</summary>
    /// <param name="surgicalCase">The case.</param>
    /// <param name="history">Its history up to the version of the case, in order.</param>
    /// <param name="overlap">The clinic's overlap.</param>
    /// <param name="people">The people of the clinic.</param>
    /// <param name="photos">The files of its photos, in order.</param>
    internal static CaseRecord Of(SurgicalCase surgicalCase, IReadOnlyList<HistoryEntry> history, Overlap overlap, ClinicPeople people, IReadOnlyList<byte[]> photos)
    {
        var derived = new DerivedFacts(surgicalCase, photos);
        var entries = history.Select(row => derived.With(new RecordEntry(
            row.Sequence, row.At.ToDateTimeOffset(), row.ById, row.What, JsonSerializer.Deserialize<JsonElement>(row.Content), null, null, null, null))).ToArray();
        Guid?[] named =
        [
            .. history.Select(row => (Guid?)row.ById),
            surgicalCase.SurgeonId,
            .. surgicalCase.Stages.SelectMany(stage => stage.Blocks).SelectMany(block => block.Readings).Select(reading => (Guid?)reading.ReaderId),
            .. surgicalCase.SecondReads.Select(read => (Guid?)read.ReaderId),
        ];
        return new CaseRecord(
            ThisFormat,
            surgicalCase.Id,
            surgicalCase.CaseNumber,
            overlap.Minutes,
            [.. named.OfType<Guid>().Distinct().Order().Select(id => new RecordPerson(id, people.EmailOf(id), people.NameOf(id)))],
            entries);
    }
}

/// <summary>Someone who acted or is named in a record.</summary>
/// <param name="Id">Their number there.</param>
/// <param name="Email">Their address, or the name of another system.</param>
/// <param name="Name">Their name.</param>
internal sealed record RecordPerson(Guid? Id, string? Email, string? Name);

/// <summary>One change of a record.</summary>
/// <param name="Sequence">Its place, from 1.</param>
/// <param name="At">When.</param>
/// <param name="By">By whom.</param>
/// <param name="What">What was done, in one word.</param>
/// <param name="Content">What was entered: the body of the request, with the place where the address says it.</param>
/// <param name="ReadingId">The number that a reading got.</param>
/// <param name="Alerts">What was said of a layer at once.</param>
/// <param name="Risk">By which rules the risk was assessed, where facts were entered.</param>
/// <param name="Photo">The file of a photo.</param>
internal sealed record RecordEntry(
    int? Sequence, DateTimeOffset? At, Guid? By, string? What, JsonElement? Content, Guid? ReadingId, RecordedAlert?[]? Alerts, RiskRules? Risk, byte[]? Photo);

/// <summary>An alert as it was said; its words follow from it.</summary>
/// <param name="Code">Which.</param>
/// <param name="Margin">On which margin.</param>
/// <param name="Arcs">Where.</param>
/// <param name="Centre">True where the centre of the floor is meant.</param>
internal sealed record RecordedAlert(AlertCode Code, Margin? Margin, ArcBody[] Arcs, bool Centre)
{
    /// <summary>Alerts as they were said.</summary>
    internal static RecordedAlert[] Of(IEnumerable<MarginAlert> alerts) =>
        [.. alerts.Select(alert => new RecordedAlert(alert.Code, alert.Margin, ArcBody.Of(alert.Region.Arcs), alert.Region.Centre))];
}

/// <summary>By which rules a risk was assessed.</summary>
/// <param name="RuleVersion">Their version.</param>
/// <param name="SizeBoundary">The clinic's setting for exactly 2 and 4 cm.</param>
internal sealed record RiskRules(string? RuleVersion, SizeBoundary? SizeBoundary);

/// <summary>What a change made that its content does not say, read from the case in the order it was made.</summary>
internal sealed class DerivedFacts(SurgicalCase surgicalCase, IReadOnlyList<byte[]> photos)
{
    private readonly Dictionary<(int Stage, string Block), int> readings = [];
    private int layers;
    private int assessments;
    private int photo;

    /// <summary>The entry with what it made.</summary>
    internal RecordEntry With(RecordEntry entry) => entry.What switch
    {
        "openCase" or "correctFacts" => entry with { Risk = NextRules() },
        PhotoAdded.What => entry with { Photo = photos[photo++] },
        "recordLayer" => entry with { Alerts = RecordedAlert.Of(surgicalCase.Stages[layers++].Alerts) },
        "recordReading" or "amendReading" => entry with { ReadingId = NextReading(entry.Content!.Value) },
        _ => entry,
    };

    private RiskRules NextRules()
    {
        var assessment = surgicalCase.Assessments[assessments++].Assessment;
        return new RiskRules(assessment.RuleVersion, assessment.Boundary);
    }

    private Guid NextReading(JsonElement content)
    {
        var place = (Stage: content.GetProperty("stage").GetInt32(), Block: content.GetProperty("block").GetString()!);
        var ordinal = readings[place] = readings.GetValueOrDefault(place) + 1;
        return surgicalCase.StageOf(place.Stage).BlockOf(place.Block).Readings[ordinal - 1].Id;
    }
}
