using System.Text.RegularExpressions;
using StagedMargins.Core.Intake;
using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Mapping;

/// <summary>A case as it is opened.</summary>
/// <param name="PatientRef">The clinic's own number for the patient; no name is needed.</param>
/// <param name="SurgeonId">The surgeon, where named.</param>
/// <param name="Facts">What is known at intake.</param>
/// <param name="TwelveOClock">Where 12 o'clock of the map points, in words.</param>
/// <param name="Id">Its number, where it comes from another record and has one; null to have one made.</param>
public sealed record NewCase(string? PatientRef, Guid? SurgeonId, CaseFacts Facts, string? TwelveOClock, Guid? Id = null);

/// <summary>
/// One tumour at one site in one patient. Entries are only added; a correction is a further entry. Each verb refuses loudly what
/// the rules of the margins forbid.
/// </summary>
public sealed partial class SurgicalCase
{
    private readonly List<Stage> stages = [];
    private readonly List<MeasuredDefect> measuredDefects = [];

    private SurgicalCase()
    {
        (PatientRef, CaseNumber, TwelveOClock, openingFacts, Head) = ("", "", "", null!, null!);
    }

    /// <summary>Opens a case.</summary>
    /// <param name="clinicId">The clinic it belongs to.</param>
    /// <param name="caseNumber">Its number, unique in the clinic.</param>
    /// <param name="opening">What was entered.</param>
    /// <param name="openedById">By whom.</param>
    /// <param name="openedAt">When.</param>
    /// <exception cref="InvalidEntryException">A required part is missing or a text is too long.</exception>
    public SurgicalCase(Guid clinicId, string caseNumber, NewCase opening, Guid openedById, ClinicalTime openedAt)
    {
        ClinicId = clinicId;
        Id = opening.Id ?? Guid.CreateVersion7(openedAt.ToDateTimeOffset());
        CaseNumber = CheckNumber(caseNumber);
        PatientRef = FreeText.Required("patientRef", opening.PatientRef, 64);
        TwelveOClock = FreeText.Required("twelveOClock", opening.TwelveOClock, FreeText.LongestShort);
        SurgeonId = opening.SurgeonId;
        openingFacts = opening.Facts;
        OpenedById = openedById;
        OpenedAt = openedAt;
        Head = new CaseHead(opening.Facts.Site);
    }

    /// <summary>The clinic it belongs to.</summary>
    public Guid ClinicId { get; private set; }

    /// <summary>Its own number in the database.</summary>
    public Guid Id { get; private set; }

    /// <summary>Its number in the clinic, which carries no patient data.</summary>
    public string CaseNumber { get; private set; }

    /// <summary>The clinic's number for the patient.</summary>
    public string PatientRef { get; private set; }

    /// <summary>The surgeon, where named.</summary>
    public Guid? SurgeonId { get; private set; }

    /// <summary>Where 12 o'clock of the map points, in words.</summary>
    public string TwelveOClock { get; private set; }

    /// <summary>Who opened it.</summary>
    public Guid OpenedById { get; private set; }

    /// <summary>When it was opened.</summary>
    public ClinicalTime OpenedAt { get; private set; }

    /// <summary>Where it stands now.</summary>
    public CaseHead Head { get; private set; }

    /// <summary>Its stages, in order.</summary>
    public IReadOnlyList<Stage> Stages => stages;

    /// <summary>How it ended; null while it is open.</summary>
    public Ending? Ending { get; private set; }

    /// <summary>Every measurement of the wound, oldest first; the last one holds.</summary>
    public IReadOnlyList<MeasuredDefect> MeasuredDefects => measuredDefects;

    /// <summary>The margins after the last stage.</summary>
    public CaseMargins Margins(Overlap overlap) => CaseMargins.After(stages, overlap);

    /// <summary>The margins after stage k, by the readings that count now.</summary>
    /// <exception cref="InvalidEntryException">There is no such stage.</exception>
    public CaseMargins MarginsAfter(int stage, Overlap overlap) => stage >= 0 && stage <= stages.Count
        ? CaseMargins.After(stages[..stage], overlap)
        : throw new InvalidEntryException("afterStage", $"The case has stages 0 to {stages.Count}.");

    /// <summary>The stage of a number.</summary>
    /// <exception cref="NotInRecordException">There is none.</exception>
    public Stage StageOf(int number) => number >= 1 && number <= stages.Count
        ? stages[number - 1]
        : throw new NotInRecordException("The case has no such stage.");

    /// <summary>Records that a layer was taken, as the next stage, with the alerts to be said at once.</summary>
    /// <exception cref="InvalidEntryException">A part of it can't be right.</exception>
    /// <exception cref="RuleViolationException">The case has ended, or the layer leaves unread tissue where it is and no reason was given.</exception>
    public Stage RecordLayer(Layer layer, Overlap overlap, Guid byId, ClinicalTime at)
    {
        var stage = NextStage(layer, byId, at);
        var before = Margins(overlap);
        var unread = before.LeftUnreadBy(stage);
        if (unread.Count > 0 && stage.ReasonForUnread is null)
        {
            throw new RuleViolationException(
                "lastStageUnread",
                $"This layer leaves tissue that was not read: {unread.InSentence()}. Record its readings first, or give a reason for taking another layer before that.",
                [.. unread]);
        }

        stage.Alerts = AlertsFor(layer, before.Then(stage));
        stages.Add(stage);
        UpdateHead();
        return stage;
    }

    /// <summary>What a layer would do, without recording it.</summary>
    /// <exception cref="InvalidEntryException">A part of it can't be right.</exception>
    /// <exception cref="RuleViolationException">The case has ended.</exception>
    public LayerPreview Preview(Layer layer, Overlap overlap, ClinicalTime at)
    {
        var stage = NextStage(layer, Guid.Empty, at);
        var before = Margins(overlap);
        var after = before.Then(stage);
        return new LayerPreview(stage, after, AlertsFor(layer, after), before.LeftUnreadBy(stage));
    }

    /// <summary>Adds a block to a stage.</summary>
    public Block AddBlock(int stage, BlockEntry entry, Guid byId, ClinicalTime at)
    {
        var to = StageOf(stage);
        GuardOpen("no block can be added");
        var block = to.AddBlock(entry, byId, at);
        UpdateHead();
        return block;
    }

    /// <summary>Enters when moments of a stage came at the bench.</summary>
    /// <exception cref="InvalidEntryException">No moment was given.</exception>
    public Stage RecordTimes(int stage, IReadOnlyDictionary<StageMoment, ClinicalTime> times, Guid byId, ClinicalTime at)
    {
        var timed = StageOf(stage);
        GuardOpen("its times can't be entered");
        if (times.Count == 0)
        {
            throw new InvalidEntryException("receivedAt", "Enter when the tissue was received, when the slides were ready, or both.");
        }

        foreach (var (moment, time) in times)
        {
            timed.Record(moment, time, byId, at);
        }

        UpdateHead();
        return timed;
    }

    /// <summary>Records a reading of a block, or an amendment of the one that counts.</summary>
    /// <remarks>An amendment after the case was closed as cleared that leaves it not clear raises the recall flag.</remarks>
    public Reading RecordReading(int stage, string label, ReadingEntry entry, Guid byId, ClinicalTime at)
    {
        var readStage = StageOf(stage);
        var block = readStage.BlockOf(label);
        if (entry.AmendsId is null)
        {
            GuardOpen("its readings can only be amended");
        }

        if (entry.Id is { } id && stages.SelectMany(one => one.Blocks).SelectMany(one => one.Readings).Any(other => other.Id == id))
        {
            throw new RuleViolationException("numberTaken", "The case already has a reading with this number.");
        }

        var reading = block.Record(entry, PlaceAll(readStage, block, entry), byId, at);
        UpdateHead();
        return reading;
    }

    /// <summary>Signs a reading that someone else wrote down for the reader.</summary>
    public Reading Countersign(Guid readingId, Guid byId, ClinicalTime at)
    {
        var block = stages.SelectMany(stage => stage.Blocks).FirstOrDefault(b => b.Readings.Any(reading => reading.Id == readingId))
            ?? throw new NotInRecordException("The case has no such reading.");
        if (block.CountingReading!.Id != readingId)
        {
            throw new RuleViolationException("amended", "This reading was amended and no longer counts; countersign the one that counts.");
        }

        block.CountingReading.Countersign(byId, at);
        UpdateHead();
        return block.CountingReading;
    }

    /// <summary>Readings that count and still lack the reader's signature.</summary>
    public IReadOnlyList<(Stage Stage, Block Block, Reading Reading)> ToBeCountersigned() =>
    [
        .. from stage in stages
           from block in stage.Blocks
           where block.CountingReading is { SignedById: null }
           select (stage, block, block.CountingReading!),
    ];

    /// <summary>Ends the case.</summary>
    /// <exception cref="RuleViolationException">It has ended; or it is to end as cleared and a place is outstanding or unread, or a reading unsigned.</exception>
    public Ending End(EndingEntry entry, MeasuredDefectEntry? measured, Guid byId, ClinicalTime at)
    {
        GuardOpen("it can't be ended again");
        if (entry.Outcome == CaseOutcome.Cleared)
        {
            ClearanceRule.Guard(this);
        }

        var ending = new Ending(entry, byId, at);
        if (measured is not null)
        {
            try
            {
                AddMeasurement(measured, byId, at);
            }
            catch (InvalidEntryException e)
            {
                throw e.Within("measuredDefect");
            }
        }

        Ending = ending;
        UpdateHead();
        return ending;
    }

    /// <summary>Enters a measurement of the wound.</summary>
    /// <exception cref="RuleViolationException">No layer has been taken.</exception>
    /// <exception cref="InvalidEntryException">It corrects an earlier one and gives no reason.</exception>
    public MeasuredDefect Measure(MeasuredDefectEntry entry, Guid byId, ClinicalTime at)
    {
        var measured = AddMeasurement(entry, byId, at);
        UpdateHead();
        return measured;
    }

    /// <summary>Notes that everything so far was taken over from another record. It changes nothing but the version.</summary>
    public void NoteImport() => UpdateHead();

    private MeasuredDefect AddMeasurement(MeasuredDefectEntry entry, Guid byId, ClinicalTime at)
    {
        if (stages.Count == 0)
        {
            throw new RuleViolationException("noTissue", "No layer has been taken, so there is no defect to measure.");
        }

        if (measuredDefects.Count > 0)
        {
            FreeText.Required("reason", entry.Reason);
        }

        var measured = new MeasuredDefect(entry, measuredDefects.Count + 1, byId, at);
        measuredDefects.Add(measured);
        return measured;
    }

    private Stage NextStage(Layer layer, Guid byId, ClinicalTime at)
    {
        GuardOpen("no further layer can be recorded");
        return stages.Count < RecordLimits.Stages
            ? new Stage(stages.Count + 1, layer, byId, at)
            : throw new InvalidEntryException("number", $"A case has at most {RecordLimits.Stages} stages.");
    }

    private void GuardOpen(string consequence)
    {
        if (Ending is not null)
        {
            throw new RuleViolationException("caseEnded", $"The case has ended; {consequence}.");
        }
    }

    // Where a case stands does not depend on the overlap: only the target does.
    private void UpdateHead() => Head.Update(this, Margins(default).State);

    private static List<Finding> PlaceAll(Stage stage, Block block, ReadingEntry entry)
    {
        if (entry.Findings.Count > RecordLimits.Findings)
        {
            throw new InvalidEntryException("findings", $"A reading has at most {RecordLimits.Findings} findings.");
        }

        var placed = new List<Finding>();
        for (var i = 0; i < entry.Findings.Count; i++)
        {
            try
            {
                placed.Add(stage.Place(block, entry.Findings[i]));
            }
            catch (InvalidEntryException e)
            {
                throw e.Within($"findings[{i}]");
            }
        }

        return (entry.Outcome, placed.Any(finding => finding.IsPositive())) switch
        {
            (ReadingOutcome.Tumour, false) => throw new InvalidEntryException("findings", "A reading of tumour needs at least one finding of tumour or perineural invasion, with its place."),
            (ReadingOutcome.Clear, true) => throw new InvalidEntryException("findings", "A clear reading has no finding of tumour or perineural invasion."),
            _ => placed,
        };
    }

    /// <summary>Checks a case number that was chosen by hand.</summary>
    /// <exception cref="InvalidEntryException">Not of the form.</exception>
    public static string CheckNumber(string number) => NumberForm().IsMatch(number)
        ? number
        : throw new InvalidEntryException("caseNumber", "1 to 32 letters, digits, hyphens, dots or underscores.");

    [GeneratedRegex(@"^[A-Za-z0-9][A-Za-z0-9._-]{0,31}\z", RegexOptions.CultureInvariant)]
    private static partial Regex NumberForm();
}

/// <summary>What a layer would do if it were recorded.</summary>
/// <param name="Stage">The stage it would be.</param>
/// <param name="Margins">The margins it would give, with its alerts.</param>
/// <param name="Alerts">What would be said of it, the site included.</param>
/// <param name="LeftUnread">Unread tissue that the layer would leave where it is, so that recording needs a reason.</param>
public sealed record LayerPreview(Stage Stage, CaseMargins Margins, IReadOnlyList<MarginAlert> Alerts, IReadOnlyList<BlockingRegion> LeftUnread);
