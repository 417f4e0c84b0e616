using StagedMargins.Core.Care;
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

    /// <summary>Enters a dose that was given. None is refused for being too much: it was given, and the total says so loudly.</summary>
    /// <remarks>Also after the end of the case: a repair may need more.</remarks>
    /// <exception cref="InvalidEntryException">A strength or volume is out of range.</exception>
    public Dose RecordDose(DoseEntry entry, Guid byId, ClinicalTime at)
    {
        GuardEntryLimit("volumeMl", doses.Count, RecordLimits.Doses);
        var dose = new Dose(entry, doses.Count + 1, byId, at);
        doses.Add(dose);
        UpdateHead();
        return dose;
    }

    /// <summary>Says that a dose was entered wrongly.</summary>
    /// <exception cref="NotInRecordException">There is no such dose.</exception>
    /// <exception cref="RuleViolationException">It is void already.</exception>
    /// <exception cref="InvalidEntryException">No reason was given.</exception>
    public Dose VoidDose(int number, string? reason, Guid byId, ClinicalTime at)
    {
        var dose = doses.Find(given => given.Number == number) ?? throw new NotInRecordException("The case has no such dose.");
        dose.Cancel(reason, byId, at);
        UpdateHead();
        return dose;
    }

    /// <summary>Enters how and when the wound was closed.</summary>
    /// <exception cref="RuleViolationException">No layer has been taken.</exception>
    /// <exception cref="InvalidEntryException">It corrects what was said before and gives no reason.</exception>
    public Repair RecordRepair(RepairEntry entry, Guid byId, ClinicalTime at)
    {
        GuardDay("repairedOn", entry.RepairedOn, at);
        GuardEntryLimit("repairedOn", repairs.Count, RecordLimits.Repairs);
        if (repairs.Count > 0 || (Ending?.Repair is { } said && said != entry.Kind))
        {
            FreeText.Required("reason", entry.Reason);
        }

        var repair = new Repair(entry, repairs.Count + 1, byId, at);
        repairs.Add(repair);
        UpdateHead();
        return repair;
    }

    /// <summary>What to know of a repair over margins that are not clear; null where there is nothing to say.</summary>
    public string? RepairWarning() => (repairs.Count > 0 || Ending?.Repair is not null) && Head.State != CaseState.Cleared
        ? Sentences.RepairedNotClear
        : null;

    /// <summary>Enters a visit, or the correction of one.</summary>
    /// <exception cref="RuleViolationException">No layer has been taken, or the visit to correct was corrected already.</exception>
    /// <exception cref="InvalidEntryException">Before the surgery or after today, or a correction of no visit or without reason.</exception>
    public Visit RecordVisit(VisitEntry entry, Guid byId, ClinicalTime at)
    {
        GuardDay("visitedOn", entry.VisitedOn, at);
        GuardEntryLimit("visitedOn", visits.Count, RecordLimits.Visits);
        if (entry.Corrects is { } corrects)
        {
            FreeText.Required("reason", entry.Reason);
            if (corrects < 1 || corrects > visits.Count)
            {
                throw new InvalidEntryException("corrects", $"The case has {visits.Count} visits.");
            }

            if (visits.Exists(other => other.Corrects == corrects))
            {
                throw new RuleViolationException("alreadyCorrected", $"Visit {corrects} has already been corrected; correct the entry that replaced it.");
            }
        }

        var visit = new Visit(entry, visits.Count + 1, byId, at);
        visits.Add(visit);
        UpdateHead();
        return visit;
    }

    /// <summary>Enters that a block was sent for permanent sections.</summary>
    /// <exception cref="RuleViolationException">It was sent already.</exception>
    public PermanentSection SendForPermanentSection(int stage, string label, ClinicalTime sentAt, string? note, Guid byId, ClinicalTime at)
    {
        var block = StageOf(stage).BlockOf(label);
        if (PermanentSectionOf(stage, block.Label) is not null)
        {
            throw new RuleViolationException("alreadySent", "This block has already been sent for permanent section.");
        }

        var sent = new PermanentSection(stage, block.Label, sentAt, note, byId, at);
        permanentSections.Add(sent);
        UpdateHead();
        return sent;
    }

    /// <summary>Enters what the permanent sections of a block showed.</summary>
    /// <exception cref="NotInRecordException">The block was not sent.</exception>
    /// <exception cref="InvalidEntryException">It corrects an earlier result and gives no reason, or comes before the sending.</exception>
    public PermanentSection ReportPermanentSection(int stage, string label, PermanentResultEntry entry, Guid byId, ClinicalTime at)
    {
        var sent = PermanentSectionOf(stage, label) ?? throw new NotInRecordException("This block was not sent for permanent section.");
        sent.Report(entry, byId, at);
        UpdateHead();
        return sent;
    }

    /// <summary>Permanent sections whose result is not the one of the reading that counts.</summary>
    public IReadOnlyList<PermanentSection> PermanentSectionsThatDiffer() =>
        [.. permanentSections.Where(sent => sent.Result is { } result && StageOf(sent.StageNumber).BlockOf(sent.BlockLabel).CountingReading is { } reading && reading.Outcome != result.Outcome)];

    /// <summary>Asks a second reader to read a block blind.</summary>
    /// <exception cref="RuleViolationException">There is no first reading yet, the surgeon read or wrote one in the case, or was asked for this block already.</exception>
    public SecondRead AskSecondRead(int stage, string label, Guid readerId, Guid byId, ClinicalTime at)
    {
        var block = StageOf(stage).BlockOf(label);
        if (block.Readings.Count == 0)
        {
            throw new RuleViolationException("notReadYet", "The block has no first reading yet; ask for a second read once it has one.");
        }

        var knows = readerId == byId || stages.SelectMany(stage => stage.Blocks).SelectMany(block => block.Readings)
            .Any(reading => reading.ReaderId == readerId || reading.RecordedById == readerId);
        if (knows)
        {
            throw new RuleViolationException("notBlind", "Anyone who has read in this case, or who asks for the second read, can't be its second reader; ask another surgeon.");
        }

        if (secondReads.Exists(read => read.StageNumber == stage && read.BlockLabel == block.Label && read.ReaderId == readerId))
        {
            throw new RuleViolationException("alreadyAsked", "This surgeon has already been asked to read this block.");
        }

        var asked = new SecondRead(secondReads.Count + 1, stage, block.Label, readerId, byId, at);
        secondReads.Add(asked);
        UpdateHead();
        return asked;
    }

    /// <summary>Enters what a second reader said, or that they give the task back.</summary>
    /// <param name="number">The number of the second read.</param>
    /// <param name="outcome">The result; null to give the task back.</param>
    /// <param name="note">A remark, or why the task is given back.</param>
    /// <param name="byId">Who says it.</param>
    /// <param name="at">When.</param>
    /// <exception cref="NotInRecordException">There is no such second read.</exception>
    /// <exception cref="RuleViolationException">Someone else was asked, or it is in already.</exception>
    public SecondRead AnswerSecondRead(int number, ReadingOutcome? outcome, string? note, Guid byId, ClinicalTime at)
    {
        var asked = secondReads.Find(read => read.Number == number) ?? throw new NotInRecordException("The case has no such second read.");
        asked.Submit(outcome, note, byId, at);
        UpdateHead();
        return asked;
    }

    /// <summary>True while someone is to read a block of this case blind, and so may not see the case.</summary>
    public bool IsBlindFor(Guid readerId) => secondReads.Exists(read => read.ReaderId == readerId && read.Answer is null);

    /// <summary>The two results of a second read once both are in; null until then, or where it was given back.</summary>
    public ReadPair? PairOf(SecondRead read) =>
        read.Answer?.Outcome is { } second && StageOf(read.StageNumber).BlockOf(read.BlockLabel).Readings is [var first, ..]
            ? new ReadPair(first.Outcome, second)
            : null;

    private PermanentSection? PermanentSectionOf(int stage, string label) =>
        permanentSections.Find(sent => sent.StageNumber == stage && sent.BlockLabel == label);

    private void GuardDay(string field, DateOnly day, ClinicalTime now)
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

    private static void GuardEntryLimit(string field, int count, int most)
    {
        if (count >= most)
        {
            throw new InvalidEntryException(field, $"A case has at most {most} of these entries.");
        }
    }

    private static DateOnly DayOf(ClinicalTime time) => DateOnly.FromDateTime(time.ToDateTimeOffset().DateTime);
}
