using StagedMargins.Core.Care;
using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Mapping;

/// <summary>What is done around the loop: anaesthetic, repair, visits, permanent sections and second reads. None of it decides a margin.</summary>
public sealed partial record SurgicalCase
{
    /// <summary>Every dose of local anaesthetic, in the order they were entered, void ones too.</summary>
    public IReadOnlyList<Dose> Doses { get; internal init; } = [];

    /// <summary>Every repair entered, oldest first; the last one holds.</summary>
    public IReadOnlyList<Repair> Repairs { get; internal init; } = [];

    /// <summary>Every visit entered, corrected ones too.</summary>
    public IReadOnlyList<Visit> Visits { get; internal init; } = [];

    /// <summary>Blocks that were sent for permanent sections.</summary>
    public IReadOnlyList<PermanentSection> PermanentSections { get; internal init; } = [];

    /// <summary>Second reads that were asked for.</summary>
    public IReadOnlyList<SecondRead> SecondReads { get; internal init; } = [];

    /// <summary>The visits that hold, by day.</summary>
    public IReadOnlyList<Visit> CurrentVisits =>
        [.. Visits.Where(visit => !Visits.Any(other => other.Corrects == visit.Number)).OrderBy(visit => visit.VisitedOn).ThenBy(visit => visit.Number)];

    /// <summary>The doses added up.</summary>
    public AnaestheticTotal Anaesthetic => AnaestheticTotal.Of(Doses, Facts.WeightGrams);

    /// <summary>What to know of a repair over margins that are not clear; null where there is nothing to say.</summary>
    public string? RepairWarning() => (Repairs.Count > 0 || Ending?.Repair is not null) && State != CaseState.Cleared
        ? Sentences.RepairedNotClear
        : null;

    /// <summary>Permanent sections whose result is not the one of the reading that counts.</summary>
    public IReadOnlyList<PermanentSection> PermanentSectionsThatDiffer() =>
        [.. PermanentSections.Where(sent => !sent.IsVoid && sent.Result is { } result && StageOf(sent.StageNumber).BlockOf(sent.BlockLabel).CountingReading is { } reading && reading.Outcome != result.Outcome)];

    /// <summary>True while someone is to read a block of this case blind, and so may not see the case.</summary>
    public bool IsBlindFor(Guid readerId) => SecondReads.Any(read => read.ReaderId == readerId && read is { Answer: null, IsVoid: false });

    /// <summary>The two results of a second read once both are in; null until then, or where it was given back.</summary>
    public ReadPair? PairOf(SecondRead read) =>
        read is { IsVoid: false, Answer.Outcome: { } second } && StageOf(read.StageNumber).BlockOf(read.BlockLabel).Readings is [var first, ..]
            ? new ReadPair(first.Outcome, second)
            : null;

    /// <summary>The sending of a block for permanent sections; null where it was not sent.</summary>
    public PermanentSection? PermanentSectionOf(int stage, string label) =>
        PermanentSections.FirstOrDefault(sent => !sent.IsVoid && sent.StageNumber == stage && sent.BlockLabel == label);

    /// <summary>Refuses a day before the first layer or after today.</summary>
    internal void GuardDay(string field, DateOnly day, ClinicalTime now)
    {
        if (Stages.Count == 0)
        {
            throw new RuleViolationException("noTissue", "No layer has been taken in this case yet.");
        }

        var (first, today) = (DayOf(Stages[0].TakenAt), DayOf(now));
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
