using StagedMargins.Core;
using StagedMargins.Core.Mapping;
using StagedMargins.Web.Problems;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Contract;

/// <summary>A finding as it is taken: placed by arc, along the slide, at the centre, or an arc with the centre.</summary>
/// <param name="Kind">What was seen. Required.</param>
/// <param name="Margin">On which margin. Required.</param>
/// <param name="Arc">Where on the clock face.</param>
/// <param name="Along">Where along the slide: two fractions of the block's arc from its first inked edge.</param>
/// <param name="Mirrored">Whether the slide shows the mirror image; it must be what the block says, and is taken from it where absent.</param>
/// <param name="Centre">True at the middle of the floor.</param>
/// <param name="CalibreMm">The calibre of the nerve, mm.</param>
public sealed record FindingBody(FindingKind? Kind, Margin? Margin, ArcBody? Arc, decimal[]? Along, bool? Mirrored, bool? Centre, decimal? CalibreMm = null);

/// <summary>A reading as it is taken.</summary>
/// <param name="Outcome">The result. Required.</param>
/// <param name="ReaderEmail">The surgeon who read the slide; the signed-in surgeon where absent.</param>
/// <param name="ReadAt">When; now where absent.</param>
/// <param name="Findings">What was seen.</param>
/// <param name="Amends">The reading it corrects: the one that counts now.</param>
/// <param name="Reason">Why, when it corrects one.</param>
/// <param name="Note">The reader's remark.</param>
/// <param name="NoMoreTissue">True where no more tissue is left of what the reading leaves undecided.</param>
public sealed record ReadingBody(
    ReadingOutcome? Outcome,
    string? ReaderEmail,
    DateTimeOffset? ReadAt,
    FindingBody?[]? Findings,
    Guid? Amends,
    string? Reason,
    string? Note,
    bool? NoMoreTissue = null)
{
    /// <summary>Records the reading in the case.</summary>
    /// <exception cref="InvalidRequestException">A field is at fault.</exception>
    internal Reading Record(Change change, int stage, string block)
    {
        var reader = ReaderEmail is { } email ? change.People.SurgeonOf("readerEmail", email) : change.ById;
        return change.Log.RecordReading(stage, block, this.ToEntry(change.At) with { ReaderId = reader }, change.ById, change.At);
    }
}

/// <summary>A finding as it is sent, always as a clock arc on the patient.</summary>
/// <param name="Kind">What was seen.</param>
/// <param name="Margin">On which margin.</param>
/// <param name="Arc">Where; null at the centre alone.</param>
/// <param name="Along">How it was given, where along the slide.</param>
/// <param name="Mirrored">Whether the slide showed the mirror image.</param>
/// <param name="Centre">True at the middle of the floor.</param>
/// <param name="CalibreMm">The calibre of the nerve, mm, where it was measured.</param>
public sealed record FindingView(FindingKind Kind, Margin Margin, ArcBody? Arc, decimal[]? Along, bool Mirrored, bool Centre, decimal? CalibreMm)
{
    /// <summary>A finding as it is sent.</summary>
    public static FindingView Of(Finding finding) => new(
        finding.Kind,
        finding.Margin,
        ArcBody.Of(finding.Arc),
        finding.Along is { } along ? [along.Start, along.End] : null,
        finding.Along?.Mirrored ?? false,
        finding.Centre,
        finding.Calibre?.ToMm());
}

/// <summary>A reading as it is sent.</summary>
/// <param name="Id">Its number.</param>
/// <param name="Outcome">The result.</param>
/// <param name="Sentence">The reading in a sentence, as it is recorded.</param>
/// <param name="ReaderEmail">The surgeon who read the slide.</param>
/// <param name="ReadAt">When.</param>
/// <param name="Findings">What was seen.</param>
/// <param name="Amends">The reading it corrects.</param>
/// <param name="AmendedBy">The reading that corrects it.</param>
/// <param name="Reason">Why it corrects one.</param>
/// <param name="Note">The reader's remark.</param>
/// <param name="NoMoreTissue">True where no more tissue is left of what it leaves undecided.</param>
/// <param name="Withdrawn">True where it was withdrawn.</param>
/// <param name="WithdrawnReason">Why.</param>
/// <param name="WithdrawnBy">By whom.</param>
/// <param name="WithdrawnAt">When.</param>
/// <param name="SignedBy">Who signed it; null while the signature is missing.</param>
/// <param name="Counts">True for the reading of its block that counts.</param>
/// <param name="RecordedBy">Who wrote it down.</param>
/// <param name="RecordedAt">When it was written down.</param>
/// <param name="CountersignedBy">Who signed it: the reader, at once or later; null while the signature is missing.</param>
/// <param name="CountersignedAt">When it was signed.</param>
/// <param name="ToBeCountersigned">True while the reader's signature is missing under a reading that counts.</param>
/// <param name="Alerts">What is to be said of it: read before the tissue was taken.</param>
public sealed record ReadingView(
    Guid Id,
    ReadingOutcome Outcome,
    string Sentence,
    string? ReaderEmail,
    DateTimeOffset ReadAt,
    FindingView[] Findings,
    Guid? Amends,
    Guid? AmendedBy,
    string? Reason,
    string? Note,
    bool NoMoreTissue,
    bool Withdrawn,
    string? WithdrawnReason,
    string? WithdrawnBy,
    DateTimeOffset? WithdrawnAt,
    string? SignedBy,
    bool Counts,
    string? RecordedBy,
    DateTimeOffset RecordedAt,
    string? CountersignedBy,
    DateTimeOffset? CountersignedAt,
    bool ToBeCountersigned,
    AlertView[] Alerts)
{
    /// <summary>A reading of a stage that stands, as it is sent.</summary>
    internal static ReadingView Of(Reading reading, Change change)
    {
        var (stage, block) = change.Case.PlaceOf(reading.Id);
        return Of(reading, stage, block, change.People);
    }

    /// <summary>A reading as it is sent.</summary>
    public static ReadingView Of(Reading reading, Stage stage, Block block, ClinicPeople people)
    {
        var counts = block.CountingReading == reading;
        return new ReadingView(
            reading.Id,
            reading.Outcome,
            ReadingSentence.Of(stage, block, reading),
            people.EmailOf(reading.ReaderId),
            reading.ReadAt.ToDateTimeOffset(),
            [.. reading.Findings.Select(FindingView.Of)],
            reading.AmendsId,
            block.AmendmentOf(reading)?.Id,
            reading.Reason,
            reading.Note,
            reading.NoMoreTissue,
            reading.Withdrawal is not null,
            reading.Withdrawal?.Reason,
            people.EmailOf(reading.Withdrawal?.ById),
            reading.Withdrawal?.At.ToDateTimeOffset(),
            people.EmailOf(reading.SignedById),
            counts,
            people.EmailOf(reading.RecordedById),
            reading.RecordedAt.ToDateTimeOffset(),
            people.EmailOf(reading.SignedById),
            (reading.Countersignature?.At ?? (reading.SignedById is null ? null : reading.RecordedAt))?.ToDateTimeOffset(),
            counts && reading.SignedById is null,
            reading.ReadAt.Utc < stage.TakenAt.Utc ? [AlertView.Of(new MarginAlert(AlertCode.TimesOutOfOrder, null, MarginRegion.None))] : []);
    }
}

/// <summary>What a reading would say and change.</summary>
/// <param name="Sentence">The reading in a sentence.</param>
/// <param name="Reading">The reading, with every finding as a clock arc.</param>
/// <param name="Margins">The margins it would give.</param>
public sealed record ReadingPreviewView(string Sentence, ReadingView Reading, MarginsView Margins);

/// <summary>Turns readings from their form over HTTP to their meaning.</summary>
internal static class ReadingTranslation
{
    /// <summary>What was entered, without its reader.</summary>
    /// <exception cref="InvalidRequestException">A field is at fault.</exception>
    internal static ReadingEntry ToEntry(this ReadingBody body, ClinicalTime now)
    {
        var errors = new FieldErrors();
        var readAt = errors.Collect(null, () => body.ReadAt is { } at ? ClinicalTime.From(at, "readAt") : now);
        var findings = ToFindings(body.Findings, errors);
        errors.Collect(null, () => FreeText.Optional("reason", body.Reason));
        errors.Collect(null, () => FreeText.Optional("note", body.Note));
        if (body.Outcome is null)
        {
            errors.Add("outcome", $"Required, one of: {string.Join(", ", EnumNames<ReadingOutcome>.All)}.");
        }

        errors.ThrowIfAny();
        return new ReadingEntry(body.Outcome!.Value, Guid.Empty, readAt, findings, body.Amends, body.Reason, body.Note, NoMoreTissue: body.NoMoreTissue ?? false);
    }

    /// <summary>Findings that were taken; what is wrong with them goes to the errors.</summary>
    internal static IReadOnlyList<FindingEntry> ToFindings(FindingBody?[]? bodies, FieldErrors errors) =>
    [
        .. (bodies ?? []).Take(RecordLimits.Findings + 1).Select((finding, i) => errors.Collect($"findings[{i}]", () => ToEntry(finding))).OfType<FindingEntry>(),
    ];

    private static FindingEntry ToEntry(FindingBody? body) => new(
        body?.Kind ?? throw new InvalidEntryException("kind", $"Required, one of: {string.Join(", ", EnumNames<FindingKind>.All)}."),
        body.Margin ?? throw new InvalidEntryException("margin", $"Required, one of: {string.Join(", ", EnumNames<Margin>.All)}."),
        StageTranslation.ToArc(body.Arc),
        body.Along switch
        {
            [var start, var end] => new AlongSlide(start, end, body.Mirrored ?? false),
            null => null,
            _ => throw new InvalidEntryException("along", "Two fractions, for example [0.25, 0.5]."),
        },
        body.Centre ?? false,
        body.Mirrored,
        body.CalibreMm is null ? null : body.CalibreMm.ToLength("calibreMm"));
}
