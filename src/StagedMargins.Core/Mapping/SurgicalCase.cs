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
public sealed record NewCase(string? PatientRef, Guid? SurgeonId, CaseFacts Facts, string? TwelveOClock, Guid? Id = null, Guid PatientId = default);

/// <summary>
/// One tumour at one site in one patient. It is what its entries make of it: each verb decides an entry, which may refuse, and
/// applies it. Entries are only added; a correction is a further entry.
/// </summary>
public sealed partial class SurgicalCase
{
    private readonly List<Stage> stages = [];
    private readonly List<MeasuredDefect> measuredDefects = [];
    private readonly List<NewEntry> newEntries = [];
    private readonly Queue<NewEntry> repeated = [];
    private CaseState? state;

    private SurgicalCase()
    {
        (PatientRef, CaseNumber, TwelveOClock, openingFacts) = ("", "", "", null!);
    }

    /// <summary>Opens a case.</summary>
    /// <param name="clinicId">The clinic it belongs to.</param>
    /// <param name="caseNumber">Its number, unique in the clinic.</param>
    /// <param name="opening">What was entered.</param>
    /// <param name="boundary">The clinic's setting for exactly 2 and 4 cm.</param>
    /// <param name="openedById">By whom.</param>
    /// <param name="openedAt">When.</param>
    /// <exception cref="InvalidEntryException">A required part is missing or a text is too long.</exception>
    public SurgicalCase(Guid clinicId, string caseNumber, NewCase opening, SizeBoundary boundary, Guid openedById, ClinicalTime openedAt)
        : this()
    {
        (ClinicId, Id) = (clinicId, opening.Id ?? Guid.CreateVersion7(openedAt.ToDateTimeOffset()));
        Write(CaseOpened.Decide(caseNumber, opening, boundary), openedById, openedAt);
    }

    /// <summary>The case that its entries make.</summary>
    /// <param name="clinicId">The clinic.</param>
    /// <param name="id">Its number in the service.</param>
    /// <param name="entries">Its entries in their order, the one that opened it first.</param>
    public static SurgicalCase FromEntries(Guid clinicId, Guid id, IEnumerable<(CaseEvent Entry, Authorship Written)> entries)
    {
        var made = new SurgicalCase { ClinicId = clinicId, Id = id };
        foreach (var (entry, written) in entries)
        {
            made.Apply(entry, written);
        }

        return made;
    }

    /// <summary>Entries decided since the case was read, which are not stored yet, oldest first.</summary>
    public IReadOnlyList<NewEntry> NewEntries => newEntries;

    /// <summary>The clinic it belongs to.</summary>
    public Guid ClinicId { get; private set; }

    /// <summary>Its own number in the database.</summary>
    public Guid Id { get; private set; }

    /// <summary>Its number in the clinic, which carries no patient data.</summary>
    public string CaseNumber { get; private set; }

    /// <summary>The patient, a subject of their own.</summary>
    public Guid PatientId { get; private set; }

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

    /// <summary>How many entries made it.</summary>
    public int Version { get; private set; }

    /// <summary>Where its margins stand. It does not depend on the overlap: only the target does.</summary>
    public CaseState State => state ??= Margins(default).State;

    /// <summary>True once an amendment made a cleared case not clear. It stays, for the surgeon to act on.</summary>
    public bool Recall { get; private set; }

    /// <summary>Its stages, in order.</summary>
    public IReadOnlyList<Stage> Stages => stages;

    /// <summary>How it ended; null while it is open.</summary>
    public Ending? Ending { get; private set; }

    /// <summary>Every measurement of the wound, oldest first; the last one holds.</summary>
    public IReadOnlyList<MeasuredDefect> MeasuredDefects => measuredDefects;

    /// <summary>How it was taken over from another record, the last time where there was more than one; null for a case that was opened here.</summary>
    public CaseImported? Import { get; internal set; }

    /// <summary>The margins after the last stage.</summary>
    public CaseMargins Margins(Overlap overlap) => CaseMargins.After(stages, overlap);

    /// <summary>The margins after stage k, by the readings that count now. The target is widened by the overlap with which stage k+1 was planned.</summary>
    /// <param name="stage">k; 0 before any tissue.</param>
    /// <param name="overlap">The clinic's overlap, for the layer that is still to come.</param>
    /// <exception cref="InvalidEntryException">There is no such stage.</exception>
    public CaseMargins MarginsAfter(int stage, Overlap overlap) => stage >= 0 && stage <= stages.Count
        ? CaseMargins.After(stages[..stage], stage < stages.Count ? stages[stage].Overlap : overlap)
        : throw new InvalidEntryException("afterStage", $"The case has stages 0 to {stages.Count}.");

    /// <summary>The stage of a number.</summary>
    /// <exception cref="NotInRecordException">There is none.</exception>
    public Stage StageOf(int number) => number >= 1 && number <= stages.Count
        ? stages[number - 1]
        : throw new NotInRecordException("The case has no such stage.");

    /// <summary>Every reading of every block, stage by stage.</summary>
    public IEnumerable<Reading> Readings() => stages.SelectMany(stage => stage.Blocks).SelectMany(block => block.Readings);

    /// <summary>Applies an entry.</summary>
    /// <param name="entry">What was decided.</param>
    /// <param name="written">By whom, and when.</param>
    public void Apply(CaseEvent entry, Authorship written)
    {
        var (outcome, before) = (Ending?.Outcome, Ending is null ? default : State);
        entry.Apply(this, written);
        (state, Version) = (null, Version + 1);
        Recall |= outcome is not null && RecallRule.IsRaised(outcome, before, State);
    }

    /// <summary>Records that a layer was taken, as the next stage, with the alerts to be said at once.</summary>
    /// <inheritdoc cref="LayerRecorded.Decide"/>
    public Stage RecordLayer(Layer layer, Overlap overlap, Guid byId, ClinicalTime at)
    {
        Write(LayerRecorded.Decide(this, layer, overlap), byId, at);
        return stages[^1];
    }

    /// <summary>What a layer would do, without recording it.</summary>
    /// <exception cref="InvalidEntryException">A part of it can't be right.</exception>
    /// <exception cref="RuleViolationException">The case has ended.</exception>
    public LayerPreview Preview(Layer layer, Overlap overlap, ClinicalTime at) => LayerRecorded.Preview(this, layer, overlap, new Authorship(Guid.Empty, at));

    /// <summary>Adds a block to a stage.</summary>
    /// <inheritdoc cref="BlockAdded.Decide"/>
    public Block AddBlock(int stage, BlockEntry entry, Guid byId, ClinicalTime at)
    {
        Write(BlockAdded.Decide(this, stage, entry), byId, at);
        return StageOf(stage).Blocks[^1];
    }

    /// <summary>Enters when moments of a stage came at the bench.</summary>
    /// <inheritdoc cref="TimesRecorded.Decide"/>
    public Stage RecordTimes(int stage, IReadOnlyList<MomentTime> times, Guid byId, ClinicalTime at)
    {
        Write(TimesRecorded.Decide(this, stage, times), byId, at);
        return StageOf(stage);
    }

    /// <summary>Records a reading of a block, or an amendment of the one that counts.</summary>
    /// <remarks>An amendment after the case was closed as cleared that leaves it not clear raises the recall flag.</remarks>
    /// <inheritdoc cref="ReadingWritten.Decide"/>
    public Reading RecordReading(int stage, string label, ReadingEntry entry, Guid byId, ClinicalTime at)
    {
        Write(ReadingWritten.Decide(this, stage, label, entry, at), byId, at);
        return StageOf(stage).BlockOf(label).Readings[^1];
    }

    /// <summary>Signs a reading that someone else wrote down for the reader.</summary>
    /// <inheritdoc cref="ReadingCountersigned.Decide"/>
    public Reading Countersign(Guid readingId, Guid byId, ClinicalTime at)
    {
        Write(ReadingCountersigned.Decide(this, readingId, byId), byId, at);
        return Readings().Single(reading => reading.Id == readingId);
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
    /// <inheritdoc cref="CaseEnded.Decide"/>
    public Ending End(EndingEntry entry, MeasuredDefectEntry? measured, Guid byId, ClinicalTime at)
    {
        Write(CaseEnded.Decide(this, entry, measured), byId, at);
        return Ending!;
    }

    /// <summary>Enters a measurement of the wound.</summary>
    /// <inheritdoc cref="DefectMeasured.Decide"/>
    public MeasuredDefect Measure(MeasuredDefectEntry entry, Guid byId, ClinicalTime at)
    {
        Write(DefectMeasured.Decide(this, entry), byId, at);
        return measuredDefects[^1];
    }

    /// <summary>Notes that everything so far was taken over from another record.</summary>
    public void NoteImport(CaseImported note, Guid byId, ClinicalTime at) => Write(note, byId, at);

    internal void Open(CaseOpened opened, Authorship written)
    {
        (CaseNumber, PatientRef, SurgeonId, TwelveOClock) = (opened.CaseNumber, opened.PatientRef.Text, opened.SurgeonId, opened.TwelveOClock.Text);
        (PatientId, OpenedById, OpenedAt, openingFacts) = (opened.PatientId, written.ById, written.At, opened.Facts.Open());
        assessments.Add(new KeptAssessment(1, opened.Risk, written.At));
    }

    internal void Add(Stage stage) => stages.Add(stage);

    internal void Add(MeasuredDefect measured) => measuredDefects.Add(measured);

    internal void EndWith(Ending ending) => Ending = ending;

    /// <summary>Refuses what an ended case does not take.</summary>
    /// <exception cref="RuleViolationException">The case has ended.</exception>
    internal void GuardOpen(string consequence)
    {
        if (Ending is not null)
        {
            throw new RuleViolationException("caseEnded", $"The case has ended; {consequence}.");
        }
    }

    private void Write(CaseEvent decided, Guid byId, ClinicalTime at)
    {
        var entry = repeated.TryDequeue(out var kept) ? kept : new NewEntry(decided, new Authorship(byId, at));
        Apply(entry.Event, entry.Written);
        newEntries.Add(entry);
    }

    /// <summary>Lets the next verbs find what they decided once, with the numbers that were made then, so that a request that is sent again can be answered as it was.</summary>
    /// <param name="written">What they decided, in order.</param>
    public void Repeat(IEnumerable<NewEntry> written)
    {
        foreach (var entry in written)
        {
            repeated.Enqueue(entry);
        }
    }

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
