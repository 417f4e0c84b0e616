using StagedMargins.Core.Care;
using StagedMargins.Core.Entries;
using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Mapping;

/// <summary>What is done around the loop: anaesthetic, repair, visits, permanent sections and second reads. None of it decides a margin.</summary>
public sealed partial class SurgicalCase
{
    private readonly List<Dose> doses = [];
    private readonly List<Repair> repairs = [];
    private readonly List<Visit> visits = [];
    private readonly List<PermanentSection> permanentSections = [];
    private readonly List<SecondRead> secondReads = [];

    /// <summary>Every dose of local anaesthetic, in the order they were entered, void ones too.</summary>
    public IReadOnlyList<Dose> Doses => doses;

    /// <summary>Every repair entered, oldest first; the last one holds.</summary>
    public IReadOnlyList<Repair> Repairs => repairs;

    /// <summary>Every visit entered, corrected ones too.</summary>
    public IReadOnlyList<Visit> Visits => visits;

    /// <summary>Blocks that were sent for permanent sections.</summary>
    public IReadOnlyList<PermanentSection> PermanentSections => permanentSections;

    /// <summary>Second reads that were asked for.</summary>
    public IReadOnlyList<SecondRead> SecondReads => secondReads;

    /// <summary>The visits that hold, by day.</summary>
    public IReadOnlyList<Visit> CurrentVisits =>
        [.. visits.Where(visit => !visits.Exists(other => other.Corrects == visit.Number)).OrderBy(visit => visit.VisitedOn).ThenBy(visit => visit.Number)];

    /// <summary>The doses added up.</summary>
    public AnaestheticTotal Anaesthetic => AnaestheticTotal.Of(doses, Facts.WeightGrams);

    /// <summary>Enters a dose that was given.</summary>
    /// <inheritdoc cref="AnaestheticGiven.Decide"/>
    public Dose RecordDose(DoseEntry entry, Guid byId, ClinicalTime at)
    {
        Write(AnaestheticGiven.Decide(this, entry), byId, at);
        return doses[^1];
    }

    /// <summary>Says that a dose was entered wrongly.</summary>
    /// <inheritdoc cref="AnaestheticVoided.Decide"/>
    public Dose VoidDose(int number, string? reason, Guid byId, ClinicalTime at)
    {
        Write(AnaestheticVoided.Decide(this, number, reason), byId, at);
        return doses[number - 1];
    }

    /// <summary>Enters how and when the wound was closed.</summary>
    /// <inheritdoc cref="RepairRecorded.Decide"/>
    public Repair RecordRepair(RepairEntry entry, Guid byId, ClinicalTime at)
    {
        Write(RepairRecorded.Decide(this, entry, at), byId, at);
        return repairs[^1];
    }

    /// <summary>What to know of a repair over margins that are not clear; null where there is nothing to say.</summary>
    public string? RepairWarning() => (repairs.Count > 0 || Ending?.Repair is not null) && State != CaseState.Cleared
        ? Sentences.RepairedNotClear
        : null;

    /// <summary>Enters a visit, or the correction of one.</summary>
    /// <inheritdoc cref="VisitRecorded.Decide"/>
    public Visit RecordVisit(VisitEntry entry, Guid byId, ClinicalTime at)
    {
        Write(VisitRecorded.Decide(this, entry, at), byId, at);
        return visits[^1];
    }

    /// <summary>Enters that a block was sent for permanent sections.</summary>
    /// <inheritdoc cref="PermanentSectionSent.Decide"/>
    public PermanentSection SendForPermanentSection(int stage, string label, ClinicalTime sentAt, string? note, Guid byId, ClinicalTime at)
    {
        Write(PermanentSectionSent.Decide(this, stage, label, sentAt, note), byId, at);
        return permanentSections[^1];
    }

    /// <summary>Enters what the permanent sections of a block showed.</summary>
    /// <inheritdoc cref="PermanentSectionReported.Decide"/>
    public PermanentSection ReportPermanentSection(int stage, string label, PermanentResultEntry entry, Guid byId, ClinicalTime at)
    {
        Write(PermanentSectionReported.Decide(this, stage, label, entry), byId, at);
        return PermanentSectionOf(stage, label)!;
    }

    /// <summary>Permanent sections whose result is not the one of the reading that counts.</summary>
    public IReadOnlyList<PermanentSection> PermanentSectionsThatDiffer() =>
        [.. permanentSections.Where(sent => sent.Result is { } result && StageOf(sent.StageNumber).BlockOf(sent.BlockLabel).CountingReading is { } reading && reading.Outcome != result.Outcome)];

    /// <summary>Asks a second reader to read a block blind.</summary>
    /// <inheritdoc cref="SecondReadAsked.Decide"/>
    public SecondRead AskSecondRead(int stage, string label, Guid readerId, Guid byId, ClinicalTime at)
    {
        Write(SecondReadAsked.Decide(this, stage, label, readerId, byId), byId, at);
        return secondReads[^1];
    }

    /// <summary>Enters what a second reader said.</summary>
    /// <inheritdoc cref="SecondReadAnswered.Decide"/>
    public SecondRead AnswerSecondRead(int number, ReadingOutcome outcome, string? note, Guid byId, ClinicalTime at)
    {
        Write(SecondReadAnswered.Decide(this, number, outcome, note, byId), byId, at);
        return secondReads[number - 1];
    }

    /// <summary>Enters that a second reader gives the task back unread.</summary>
    /// <inheritdoc cref="SecondReadGivenBack.Decide"/>
    public SecondRead GiveBackSecondRead(int number, string? reason, Guid byId, ClinicalTime at)
    {
        Write(SecondReadGivenBack.Decide(this, number, reason, byId), byId, at);
        return secondReads[number - 1];
    }

    /// <summary>True while someone is to read a block of this case blind, and so may not see the case.</summary>
    public bool IsBlindFor(Guid readerId) => secondReads.Exists(read => read.ReaderId == readerId && read.Answer is null);

    /// <summary>The two results of a second read once both are in; null until then, or where it was given back.</summary>
    public ReadPair? PairOf(SecondRead read) =>
        read.Answer?.Outcome is { } second && StageOf(read.StageNumber).BlockOf(read.BlockLabel).Readings is [var first, ..]
            ? new ReadPair(first.Outcome, second)
            : null;

    /// <summary>The sending of a block for permanent sections; null where it was not sent.</summary>
    internal PermanentSection? PermanentSectionOf(int stage, string label) =>
        permanentSections.Find(sent => sent.StageNumber == stage && sent.BlockLabel == label);

    internal void Add(Dose dose) => doses.Add(dose);

    internal void Add(Repair repair) => repairs.Add(repair);

    internal void Add(Visit visit) => visits.Add(visit);

    internal void Add(PermanentSection sent) => permanentSections.Add(sent);

    internal void Add(SecondRead asked) => secondReads.Add(asked);

    /// <summary>Refuses a day before the first layer or after today.</summary>
    internal void GuardDay(string field, DateOnly day, ClinicalTime now)
    {
        if (stages.Count == 0)
        {
            throw new RuleViolationException("noTissue", "No layer has been taken in this case yet.");
        }

        var (first, today) = (DayOf(stages[0].TakenAt), DayOf(now));
        if (day < first || day > today)
        {
            throw new InvalidEntryException(field, FormattableString.Invariant($"The day can't be before the first layer was taken, on {first:yyyy-MM-dd}, or after today."));
        }
    }

    /// <summary>Refuses an entry of which the case has as many as it can have.</summary>
    internal static void GuardEntryLimit(string field, int count, int most)
    {
        if (count >= most)
        {
            throw new InvalidEntryException(field, $"A case has at most {most} of these entries.");
        }
    }

    private static DateOnly DayOf(ClinicalTime time) => DateOnly.FromDateTime(time.ToDateTimeOffset().DateTime);
}
