using System.Text.RegularExpressions;
using StagedMargins.Core.Entries;
using StagedMargins.Core.Intake;
using StagedMargins.Core.Risk;

namespace StagedMargins.Core.Mapping;

/// <summary>A case as it is opened.</summary>
/// <param name="PatientRef">The clinic's own number for the patient; no name is needed.</param>
/// <param name="SurgeonId">The surgeon, where named.</param>
/// <param name="Facts">What is known at intake.</param>
/// <param name="TwelveOClock">Where 12 o'clock of the map points, in words.</param>
/// <param name="Id">Its number, where it comes from another record and has one; null to have one made.</param>
/// <param name="PatientId">The patient, once they were found or added.</param>
/// <param name="FollowsCase">The case of which it treats the recurrence.</param>
public sealed record NewCase(string? PatientRef, Guid? SurgeonId, CaseFacts Facts, string? TwelveOClock, Guid? Id = null, Guid PatientId = default, Guid? FollowsCase = null);

/// <summary>
/// One tumour at one site in one patient, as its entries make it. Immutable: a further entry makes another case.
/// </summary>
public sealed partial record SurgicalCase
{
    private CaseOpened? opened;
    private CaseMargins? margins;

    private SurgicalCase(Guid clinicId, Guid id) => (ClinicId, Id) = (clinicId, id);

    /// <summary>A case before its first entry, the one that opens it.</summary>
    /// <param name="clinicId">The clinic.</param>
    /// <param name="id">Its number in the service.</param>
    public static SurgicalCase Unopened(Guid clinicId, Guid id) => new(clinicId, id);

    /// <summary>The case that its entries make.</summary>
    /// <param name="clinicId">The clinic.</param>
    /// <param name="id">Its number in the service.</param>
    /// <param name="entries">Its entries in their order, the one that opened it first.</param>
    public static SurgicalCase FromEntries(Guid clinicId, Guid id, IEnumerable<(CaseEvent Entry, Authorship Written)> entries) =>
        entries.Aggregate(Unopened(clinicId, id), (made, entry) => made.Apply(entry.Entry, entry.Written));

    /// <summary>The clinic it belongs to.</summary>
    public Guid ClinicId { get; }

    /// <summary>Its own number in the database.</summary>
    public Guid Id { get; }

    /// <summary>Its number in the clinic, which carries no patient data.</summary>
    public string CaseNumber => opened!.CaseNumber;

    /// <summary>The patient, a subject of their own.</summary>
    public Guid PatientId => FactsCorrections.LastOrDefault(correction => correction.PatientId is not null)?.PatientId ?? opened!.PatientId;

    /// <summary>The clinic's number for the patient.</summary>
    public string PatientRef => FactsCorrections.LastOrDefault(correction => correction.PatientId is not null)?.PatientRef ?? opened!.PatientRef.Text;

    /// <summary>The surgeon, where named.</summary>
    public Guid? SurgeonId => FactsCorrections.LastOrDefault(correction => correction.SurgeonId is not null)?.SurgeonId ?? opened!.SurgeonId;

    /// <summary>Where 12 o'clock of the map points, in words.</summary>
    public string TwelveOClock => FactsCorrections.LastOrDefault(correction => correction.TwelveOClock is not null)?.TwelveOClock ?? opened!.TwelveOClock.Text;

    /// <summary>Who opened it.</summary>
    public Guid OpenedById { get; private init; }

    /// <summary>When it was opened.</summary>
    public ClinicalTime OpenedAt { get; private init; }

    /// <summary>How many entries made it.</summary>
    public int Version { get; private init; }

    /// <summary>Where its margins stand. It does not depend on the overlap: only the target does.</summary>
    public CaseState State => (margins ??= Margins(default)).State;

    /// <summary>True once a recall was raised. It stays when that was answered.</summary>
    public bool Recall { get; private init; }

    /// <summary>Its stages, in order.</summary>
    public IReadOnlyList<Stage> Stages { get; internal init; } = [];

    /// <summary>How it ended; null while it is open, paused or opened again.</summary>
    public Ending? Ending => Endings is [.., { Reopened: null } last] ? last : null;

    /// <summary>Every end of it, oldest first; the last one counts.</summary>
    public IReadOnlyList<Ending> Endings { get; internal init; } = [];

    /// <summary>That it is paused and continues on another day; null where it is not.</summary>
    public Ending? Pause { get; internal init; }

    /// <summary>Stages that were withdrawn, in the order in which they were.</summary>
    public IReadOnlyList<WithdrawnStage> WithdrawnStages { get; internal init; } = [];

    /// <summary>Every review that was raised, oldest first.</summary>
    public IReadOnlyList<Review> Reviews { get; internal init; } = [];

    /// <summary>Reviews that nobody has answered.</summary>
    public IEnumerable<Review> OpenReviews() => Reviews.Where(review => review.Answer is null);

    /// <summary>Whether a case that ended as cleared is clear now; null for any other.</summary>
    public bool? ClearedNow => Ending is { Outcome: CaseOutcome.Cleared } ? State == CaseState.Cleared : null;

    /// <summary>The case of which this one treats the recurrence; null for none.</summary>
    public Guid? FollowsCase => opened!.FollowsCase;

    /// <summary>True while a recall is not answered.</summary>
    public bool IsRecalled => OpenReviews().Any(review => review.Code == ReviewCode.Recall);

    /// <summary>Every measurement of the wound, oldest first; the last one holds.</summary>
    public IReadOnlyList<MeasuredDefect> MeasuredDefects { get; internal init; } = [];

    /// <summary>How it was taken over from another record, the last time where there was more than one; null for a case that was opened here.</summary>
    public CaseImported? Import { get; internal init; }

    /// <summary>The margins after the last stage.</summary>
    public CaseMargins Margins(Overlap overlap) => CaseMargins.After(Stages, overlap);

    /// <summary>The margins after stage k, by the readings that count now. The target is widened by the overlap with which stage k+1 was planned.</summary>
    /// <param name="stage">k; 0 before any tissue.</param>
    /// <param name="overlap">The clinic's overlap, for the layer that is still to come.</param>
    /// <exception cref="InvalidEntryException">There is no such stage.</exception>
    public CaseMargins MarginsAfter(int stage, Overlap overlap) => stage >= 0 && stage <= Stages.Count
        ? CaseMargins.After([.. Stages.Take(stage)], stage < Stages.Count ? Stages[stage].Overlap : overlap)
        : throw new InvalidEntryException("afterStage", $"The case has stages 0 to {Stages.Count}.");

    /// <summary>The stage of a number.</summary>
    /// <exception cref="NotInRecordException">There is none.</exception>
    public Stage StageOf(int number) => number >= 1 && number <= Stages.Count
        ? Stages[number - 1]
        : throw new NotInRecordException("The case has no such stage.");

    /// <summary>Every reading of every block, stage by stage.</summary>
    public IEnumerable<Reading> Readings() => Stages.SelectMany(stage => stage.Blocks).SelectMany(block => block.Readings);

    /// <summary>The case with one more entry.</summary>
    /// <param name="entry">What was decided.</param>
    /// <param name="written">By whom, and when.</param>
    /// <exception cref="InvalidOperationException">It does not open the case, and no other has.</exception>
    public SurgicalCase Apply(CaseEvent entry, Authorship written)
    {
        if (opened is null && entry is not CaseOpened)
        {
            throw new InvalidOperationException("The first entry of a case opens it.");
        }

        // Set in a copy that nobody else has yet.
        var after = entry.Apply(this, written) with { Version = Version + 1 };
        after.margins = null;
        return entry.Raised is { Count: > 0 } raised
            ? after with
            {
                Reviews = [.. after.Reviews, .. raised.Select(review => new Review(review, written.At))],
                Recall = after.Recall || raised.Any(review => review.Code == ReviewCode.Recall),
            }
            : after;
    }

    /// <summary>What a layer would do, without recording it.</summary>
    /// <exception cref="InvalidEntryException">A part of it can't be right.</exception>
    /// <exception cref="RuleViolationException">The case has ended.</exception>
    public LayerPreview Preview(Layer layer, Overlap overlap, ClinicalTime at) => LayerRecorded.Preview(this, layer, overlap, new Authorship(Guid.Empty, at));

    /// <summary>Readings that count and still lack the reader's signature.</summary>
    public IReadOnlyList<(Stage Stage, Block Block, Reading Reading)> ToBeCountersigned() =>
    [
        .. from stage in Stages
           from block in stage.Blocks
           where block.CountingReading is { SignedById: null }
           select (stage, block, block.CountingReading!),
    ];

    internal SurgicalCase OpenedBy(CaseOpened entry, Authorship written) => this with
    {
        opened = entry,
        OpenedById = written.ById,
        OpenedAt = written.At,
        Assessments = [new KeptAssessment(1, entry.Risk, written.At)],
    };

    /// <summary>The case with one of its stages changed.</summary>
    internal SurgicalCase With(int stage, Func<Stage, Stage> change) => this with { Stages = Stages.Replace(stage - 1, change) };

    /// <summary>The stage and block of a reading that the case has.</summary>
    public (Stage Stage, Block Block) PlaceOf(Guid readingId) => Stages
        .SelectMany(stage => stage.Blocks, (stage, block) => (stage, block))
        .First(place => place.block.Readings.Any(reading => reading.Id == readingId));

    /// <summary>A reading of a stage that stands, or null.</summary>
    public Reading? FindReading(Guid id) => Readings().FirstOrDefault(reading => reading.Id == id);

    /// <summary>The case with what was shown of one of its blocks: the last word of each source counts.</summary>
    internal SurgicalCase WithEvidence(int stage, string label, BlockEvidence evidence) => With(stage, one => one.With(label, block => block with
    {
        Evidence = [.. block.Evidence.Where(other => (other.Source, other.Number) != (evidence.Source, evidence.Number)), evidence],
    }));

    /// <summary>The case with nothing more awaited of blocks that are gone.</summary>
    internal SurgicalCase WithoutAwaited(int stage, IReadOnlyList<string> gone) => this with
    {
        PermanentSections = [.. PermanentSections.Select(sent => sent.StageNumber == stage && gone.Contains(sent.BlockLabel) ? sent with { IsVoid = true } : sent)],
        SecondReads = [.. SecondReads.Select(read => read.StageNumber == stage && gone.Contains(read.BlockLabel) ? read with { IsVoid = true } : read)],
    };

    /// <summary>The case with one of its readings changed.</summary>
    internal SurgicalCase With(Guid readingId, Func<Reading, Reading> change)
    {
        var (stage, block) = PlaceOf(readingId);
        return With(stage.Number, one => one.With(block.Label, held => held with { Readings = [.. held.Readings.Select(reading => reading.Id == readingId ? change(reading) : reading)] }));
    }

    /// <summary>Refuses what an ended case does not take.</summary>
    /// <exception cref="RuleViolationException">The case has ended.</exception>
    internal void GuardOpen(string consequence)
    {
        if (Ending is not null)
        {
            throw new RuleViolationException("caseEnded", $"The case has ended; {consequence}.");
        }
    }

    /// <summary>Its number in the clinic alone: nothing of the patient.</summary>
    public override string ToString() => CaseNumber;

    /// <summary>Checks a case number that was chosen by hand.</summary>
    /// <exception cref="InvalidEntryException">Not of the form.</exception>
    public static string CheckNumber(string number) => NumberForm().IsMatch(number)
        ? number
        : throw new InvalidEntryException("caseNumber", "1 to 20 letters, digits and hyphens, beginning with a letter or digit.");

    [GeneratedRegex(@"^[A-Za-z0-9][A-Za-z0-9-]{0,19}\z", RegexOptions.CultureInvariant)]
    private static partial Regex NumberForm();
}

/// <summary>What a layer would do if it were recorded.</summary>
/// <param name="Stage">The stage it would be.</param>
/// <param name="Margins">The margins it would give, with its alerts.</param>
/// <param name="Alerts">What would be said of it, the site included.</param>
/// <param name="LeftUnread">Unread tissue that the layer would leave where it is, so that recording needs a reason.</param>
public sealed record LayerPreview(Stage Stage, CaseMargins Margins, IReadOnlyList<MarginAlert> Alerts, IReadOnlyList<BlockingRegion> LeftUnread);
