using StagedMargins.Core.Audit;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Web.Features.Audit;

/// <summary>What the database counted of some cases: it grows with the number of different values, not of cases, and two add up to one.</summary>
public sealed class AuditAggregate
{
    private readonly SortedDictionary<int, long> cleared = [];

    /// <summary>Stages per case, of cases with at least one.</summary>
    public CountedValues Stages { get; } = new();

    /// <summary>Turnaround of stages, whole minutes.</summary>
    public CountedValues Turnaround { get; } = new();

    /// <summary>Sums over the cases.</summary>
    public AuditSums Sums { get; private set; } = new();

    /// <summary>Cases by how they ended.</summary>
    public Dictionary<CaseOutcome, long> Outcomes { get; } = [];

    /// <summary>Cases that ended before any layer was taken; they have no part in the other figures.</summary>
    public long WithoutLayer { get; private set; }

    /// <summary>Of them, those that ended as not done.</summary>
    public long NotDone { get; private set; }

    /// <summary>Cases cleared at a stage or before.</summary>
    public long ClearedBy(int stage) => cleared.Where(pair => pair.Key <= stage).Sum(pair => pair.Value);

    /// <summary>Adds cases that are alike in stages, clearing and end.</summary>
    public void Add(int stages, int? clearedStage, CaseOutcome outcome, AuditSums sums)
    {
        if (stages == 0)
        {
            WithoutLayer += sums.Cases;
            NotDone += outcome == CaseOutcome.NotDone ? sums.Cases : 0;
            return;
        }

        Stages.Add(stages, sums.Cases);
        Outcomes[outcome] = Outcomes.GetValueOrDefault(outcome) + sums.Cases;
        Sums = Sums.Plus(sums);
        if (clearedStage is { } at)
        {
            cleared[at] = cleared.GetValueOrDefault(at) + sums.Cases;
        }
    }

    /// <summary>Adds another tally.</summary>
    public AuditAggregate Plus(AuditAggregate other)
    {
        foreach (var (value, times) in other.Stages.Values)
        {
            Stages.Add(value, times);
        }

        foreach (var (value, times) in other.Turnaround.Values)
        {
            Turnaround.Add(value, times);
        }

        foreach (var (outcome, times) in other.Outcomes)
        {
            Outcomes[outcome] = Outcomes.GetValueOrDefault(outcome) + times;
        }

        foreach (var (stage, times) in other.cleared)
        {
            cleared[stage] = cleared.GetValueOrDefault(stage) + times;
        }

        (Sums, WithoutLayer, NotDone) = (Sums.Plus(other.Sums), WithoutLayer + other.WithoutLayer, NotDone + other.NotDone);
        return this;
    }
}

/// <summary>Sums over cases; areas in square micrometres.</summary>
public sealed record AuditSums
{
    /// <summary>Cases.</summary>
    public long Cases { get; init; }

    /// <summary>Blocks.</summary>
    public long Blocks { get; init; }

    /// <summary>Readings.</summary>
    public long Readings { get; init; }

    /// <summary>Readings that could not be read.</summary>
    public long Unreadable { get; init; }

    /// <summary>Readings that amend another.</summary>
    public long Amendments { get; init; }

    /// <summary>Amendments of a reading that could not be read.</summary>
    public long Recuts { get; init; }

    /// <summary>Readings that say of a place that it was not seen or is not decidable.</summary>
    public long NotSeen { get; init; }

    /// <summary>Readings that were withdrawn.</summary>
    public long Withdrawn { get; init; }

    /// <summary>Stages corrected or withdrawn.</summary>
    public long Corrections { get; init; }

    /// <summary>Endings taken back.</summary>
    public long Reopenings { get; init; }

    /// <summary>Reviews that nobody has answered.</summary>
    public long ReviewsOpen { get; init; }

    /// <summary>Reviews that were answered.</summary>
    public long ReviewsAnswered { get; init; }

    /// <summary>Cases flagged for recall.</summary>
    public long Recalls { get; init; }

    /// <summary>Cases with a defect.</summary>
    public long Defects { get; init; }

    /// <summary>Their areas.</summary>
    public long DefectUm2 { get; init; }

    /// <summary>Defects below 1 cm².</summary>
    public long DefectsUnder1 { get; init; }

    /// <summary>Defects below 4 cm².</summary>
    public long DefectsUnder4 { get; init; }

    /// <summary>Defects below 10 cm².</summary>
    public long DefectsUnder10 { get; init; }

    /// <summary>Cases with a defect and a size before surgery.</summary>
    public long Grown { get; init; }

    /// <summary>Their growths, defect ÷ lesion.</summary>
    public double Growth { get; init; }

    /// <summary>Cases with tissue spared.</summary>
    public long SparedCases { get; init; }

    /// <summary>Tissue spared.</summary>
    public long SparedUm2 { get; init; }

    /// <summary>Second reads in which both readers said clear.</summary>
    public long PairsBothClear { get; init; }

    /// <summary>Second reads in which both said tumour.</summary>
    public long PairsBothTumour { get; init; }

    /// <summary>Second reads with tumour by the first reader and clear by the second.</summary>
    public long PairsTumourThenClear { get; init; }

    /// <summary>Second reads with clear by the first reader and tumour by the second.</summary>
    public long PairsClearThenTumour { get; init; }

    /// <summary>Second reads in which a reader could not read the block.</summary>
    public long PairsNotComparable { get; init; }

    /// <summary>The sums of both.</summary>
    public AuditSums Plus(AuditSums other) => new()
    {
        Cases = Cases + other.Cases,
        Blocks = Blocks + other.Blocks,
        Readings = Readings + other.Readings,
        Unreadable = Unreadable + other.Unreadable,
        Amendments = Amendments + other.Amendments,
        Recuts = Recuts + other.Recuts,
        NotSeen = NotSeen + other.NotSeen,
        Withdrawn = Withdrawn + other.Withdrawn,
        Corrections = Corrections + other.Corrections,
        Reopenings = Reopenings + other.Reopenings,
        ReviewsOpen = ReviewsOpen + other.ReviewsOpen,
        ReviewsAnswered = ReviewsAnswered + other.ReviewsAnswered,
        Recalls = Recalls + other.Recalls,
        Defects = Defects + other.Defects,
        DefectUm2 = DefectUm2 + other.DefectUm2,
        DefectsUnder1 = DefectsUnder1 + other.DefectsUnder1,
        DefectsUnder4 = DefectsUnder4 + other.DefectsUnder4,
        DefectsUnder10 = DefectsUnder10 + other.DefectsUnder10,
        Grown = Grown + other.Grown,
        Growth = Growth + other.Growth,
        SparedCases = SparedCases + other.SparedCases,
        SparedUm2 = SparedUm2 + other.SparedUm2,
        PairsBothClear = PairsBothClear + other.PairsBothClear,
        PairsBothTumour = PairsBothTumour + other.PairsBothTumour,
        PairsTumourThenClear = PairsTumourThenClear + other.PairsTumourThenClear,
        PairsClearThenTumour = PairsClearThenTumour + other.PairsClearThenTumour,
        PairsNotComparable = PairsNotComparable + other.PairsNotComparable,
    };
}
