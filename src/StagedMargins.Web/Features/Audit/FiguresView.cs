using System.Globalization;
using StagedMargins.Core.Audit;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Web.Features.Audit;

/// <summary>The figures of some ended cases. Shares are 0 to 1, areas mm², times whole minutes counted; null where there is nothing to work from.</summary>
public class FiguresView
{
    private const double Um2PerMm2 = 1e6;

    /// <summary>The figures of a tally.</summary>
    public FiguresView(AuditAggregate tally)
    {
        var (stages, sums) = (tally.Stages, tally.Sums);
        Cases = stages.Count;
        Stages = stages.Sum;
        (MeanStages, MedianStages, SdStages) = (stages.Mean, stages.Quantile(0.5), stages.StandardDeviation);
        Distribution = Enumerable.Range(1, 4).Select(n => KeyValuePair.Create(n.ToString(CultureInfo.InvariantCulture), stages.CountOf(n)))
            .Append(KeyValuePair.Create("5+", stages.CountFrom(5))).ToDictionary();
        var cleared = Enumerable.Range(1, stages.Values.Select(pair => pair.Key).DefaultIfEmpty(0).Max()).Select(tally.ClearedBy).ToList();
        ClearedByStage = [.. cleared.Select(count => (double)count / Cases)];
        ClearedByStageLower95 = [.. cleared.Select(count => Interval.Wilson(count, Cases).Lower)];
        ClearedByStageUpper95 = [.. cleared.Select(count => Interval.Wilson(count, Cases).Upper)];
        BlocksPerStage = Share(sums.Blocks, Stages);
        Cleared = tally.Outcomes.GetValueOrDefault(CaseOutcome.Cleared);
        StoppedWithTumour = tally.Outcomes.GetValueOrDefault(CaseOutcome.StoppedWithTumour);
        StoppedNotCleared = tally.Outcomes.GetValueOrDefault(CaseOutcome.StoppedNotCleared);
        (CasesWithoutLayer, NotDone) = (tally.WithoutLayer, tally.NotDone);
        StagesTimed = tally.Turnaround.Count;
        (TurnaroundP50Minutes, TurnaroundP90Minutes) = (tally.Turnaround.Quantile(0.5), tally.Turnaround.Quantile(0.9));
        (Readings, Unreadable, UnreadableRate) = (sums.Readings, sums.Unreadable, Share(sums.Unreadable, sums.Readings));
        (NotSeen, NotSeenRate) = (sums.NotSeen, Share(sums.NotSeen, sums.Readings));
        (Amendments, Recuts, Recalls) = (sums.Amendments, sums.Recuts, sums.Recalls);
        (ReadingsWithdrawn, Corrections, Reopenings) = (sums.Withdrawn, sums.Corrections, sums.Reopenings);
        (ReviewsOpen, ReviewsAnswered) = (sums.ReviewsOpen, sums.ReviewsAnswered);
        (RecallsLower95, RecallsUpper95) = Interval.Poisson(sums.Recalls);
        MeanDefectMm2 = Share(sums.DefectUm2 / Um2PerMm2, sums.Defects);
        MeanGrowth = Share(sums.Growth, sums.Grown);
        MeanTissueSparedMm2 = Share(sums.SparedUm2 / Um2PerMm2, sums.SparedCases);
        DefectBands = new Dictionary<string, long>
        {
            ["under1Cm2"] = sums.DefectsUnder1,
            ["from1Cm2"] = sums.DefectsUnder4 - sums.DefectsUnder1,
            ["from4Cm2"] = sums.DefectsUnder10 - sums.DefectsUnder4,
            ["from10Cm2"] = sums.Defects - sums.DefectsUnder10,
        };
        ReadPairs = sums.PairsBothClear + sums.PairsBothTumour + sums.PairsTumourThenClear + sums.PairsClearThenTumour;
        (ReadPairsAgreed, ReadPairsNotComparable) = (sums.PairsBothClear + sums.PairsBothTumour, sums.PairsNotComparable);
        var kappa = Core.Audit.Kappa.Of([[sums.PairsBothTumour, sums.PairsTumourThenClear], [sums.PairsClearThenTumour, sums.PairsBothClear]]);
        (Kappa, KappaLower95, KappaUpper95) = (kappa?.Value, kappa?.Interval95.Lower, kappa?.Interval95.Upper);
    }

    /// <summary>Ended cases of which at least one layer was taken.</summary>
    public long Cases { get; }

    /// <summary>Their stages.</summary>
    public long Stages { get; }

    /// <summary>Mean stages per case.</summary>
    public double? MeanStages { get; }

    /// <summary>Median stages per case, type 7.</summary>
    public double? MedianStages { get; }

    /// <summary>Sample standard deviation of stages per case.</summary>
    public double? SdStages { get; }

    /// <summary>Cases by number of stages: 1, 2, 3, 4, 5+.</summary>
    public IReadOnlyDictionary<string, long> Distribution { get; }

    /// <summary>Share of all cases cleared by stage 1, 2, …: ended as cleared, and clear by the readings that count now.</summary>
    public IReadOnlyList<double> ClearedByStage { get; }

    /// <summary>Lower limits of those shares, 95 %, Wilson.</summary>
    public IReadOnlyList<double> ClearedByStageLower95 { get; }

    /// <summary>Upper limits of those shares, 95 %, Wilson.</summary>
    public IReadOnlyList<double> ClearedByStageUpper95 { get; }

    /// <summary>Blocks per stage.</summary>
    public double? BlocksPerStage { get; }

    /// <summary>Cases that ended as cleared.</summary>
    public long Cleared { get; }

    /// <summary>Cases that were stopped with tumour.</summary>
    public long StoppedWithTumour { get; }

    /// <summary>Cases that were stopped without tumour outstanding and without being cleared.</summary>
    public long StoppedNotCleared { get; }

    /// <summary>Cases that ended before any layer was taken; no other figure counts them.</summary>
    public long CasesWithoutLayer { get; }

    /// <summary>Of them, those that ended as not done.</summary>
    public long NotDone { get; }

    /// <summary>Stages whose turnaround is known.</summary>
    public long StagesTimed { get; }

    /// <summary>Median turnaround of a stage, layer taken until its last block was first read adequately, minutes.</summary>
    public double? TurnaroundP50Minutes { get; }

    /// <summary>90th percentile of it.</summary>
    public double? TurnaroundP90Minutes { get; }

    /// <summary>Readings, amended ones and amendments included.</summary>
    public long Readings { get; }

    /// <summary>Readings that could not be read.</summary>
    public long Unreadable { get; }

    /// <summary>Their share of all readings.</summary>
    public double? UnreadableRate { get; }

    /// <summary>Readings that say of a place that it was not seen, or seen and not decidable.</summary>
    public long NotSeen { get; }

    /// <summary>Their share of all readings.</summary>
    public double? NotSeenRate { get; }

    /// <summary>Readings that were withdrawn, by themselves or by a correction of their stage.</summary>
    public long ReadingsWithdrawn { get; }

    /// <summary>Stages corrected, and stages withdrawn.</summary>
    public long Corrections { get; }

    /// <summary>Ends of cases that were taken back, of cases that have ended again.</summary>
    public long Reopenings { get; }

    /// <summary>Reviews that nobody has answered.</summary>
    public long ReviewsOpen { get; }

    /// <summary>Reviews that a surgeon answered.</summary>
    public long ReviewsAnswered { get; }

    /// <summary>Readings that amend another.</summary>
    public long Amendments { get; }

    /// <summary>Of them, those of a reading that could not be read.</summary>
    public long Recuts { get; }

    /// <summary>Cases flagged for recall.</summary>
    public long Recalls { get; }

    /// <summary>Lower limit of the number of recalls to be expected, exact Poisson, 95 %.</summary>
    public double RecallsLower95 { get; }

    /// <summary>Upper limit of it.</summary>
    public double RecallsUpper95 { get; }

    /// <summary>Mean area of the defect by its layers, mm².</summary>
    public double? MeanDefectMm2 { get; }

    /// <summary>Mean growth, defect ÷ lesion, where a size was taken before surgery.</summary>
    public double? MeanGrowth { get; }

    /// <summary>Mean tissue spared against a fixed margin, mm², where one is published for the tumour.</summary>
    public double? MeanTissueSparedMm2 { get; }

    /// <summary>Cases by area of the defect.</summary>
    public IReadOnlyDictionary<string, long> DefectBands { get; }

    /// <summary>Blocks read twice, the second time blind, that both readers could read.</summary>
    public long ReadPairs { get; }

    /// <summary>Of them, those of which both said the same.</summary>
    public long ReadPairsAgreed { get; }

    /// <summary>Blocks read twice that one of the readers could not read; they have no part in the agreement.</summary>
    public long ReadPairsNotComparable { get; }

    /// <summary>Agreement on clear or tumour beyond chance, Cohen's kappa; null with fewer than 10 pairs, or where it has no meaning.</summary>
    public double? Kappa { get; }

    /// <summary>Lower 95 % limit of it, not below −1.</summary>
    public double? KappaLower95 { get; }

    /// <summary>Upper 95 % limit of it, not above 1.</summary>
    public double? KappaUpper95 { get; }

    private static double? Share(double part, long whole) => whole == 0 ? null : part / whole;
}

/// <summary>The figures of a group, with the limits for its size around the clinic's mean of the same period.</summary>
public sealed class GroupView : FiguresView
{
    /// <summary>The figures of a group.</summary>
    /// <param name="key">What its cases share.</param>
    /// <param name="tally">The group.</param>
    /// <param name="limits">The clinic's limits; null where there are none.</param>
    public GroupView(string key, AuditAggregate tally, FunnelLimits? limits)
        : base(tally)
    {
        Key = key;
        SmallGroup = Cases < FunnelLimits.SmallBelow;
        if (limits is not null && Cases > 0)
        {
            var (inner, outer) = (limits.For(Cases, Interval.Z95), limits.For(Cases, Interval.Z998));
            (Lower95, Upper95, Lower998, Upper998) = (inner.Lower, inner.Upper, outer.Lower, outer.Upper);
        }
    }

    /// <summary>What the cases share: a surgeon's address, a word, a month.</summary>
    public string Key { get; }

    /// <summary>True below 10 cases: too few to compare.</summary>
    public bool SmallGroup { get; }

    /// <summary>Lower 95 % limit of mean stages.</summary>
    public double? Lower95 { get; }

    /// <summary>Upper 95 % limit of mean stages.</summary>
    public double? Upper95 { get; }

    /// <summary>Lower 99.8 % limit of mean stages.</summary>
    public double? Lower998 { get; }

    /// <summary>Upper 99.8 % limit of mean stages.</summary>
    public double? Upper998 { get; }
}

/// <summary>The audit of a period.</summary>
public sealed class AuditView : FiguresView
{
    /// <summary>The audit of a period.</summary>
    /// <param name="period">The period.</param>
    /// <param name="total">All cases of it that the asker may see.</param>
    /// <param name="clinic">All cases of the clinic where the asker sees only their own, else null.</param>
    /// <param name="groups">The groups.</param>
    public AuditView(AuditPeriod period, AuditAggregate total, AuditAggregate? clinic, IReadOnlyList<GroupView> groups)
        : base(total)
    {
        (From, To, Groups) = (period.From, period.To, groups);
        Clinic = clinic is null ? null : new FiguresView(clinic);
    }

    /// <summary>First day; null where it is open.</summary>
    public DateOnly? From { get; }

    /// <summary>Last day; null where it is open.</summary>
    public DateOnly? To { get; }

    /// <summary>For a surgeon, who sees their own figures: those of the whole clinic. Null for a manager, whose figures are the clinic's.</summary>
    public FiguresView? Clinic { get; }

    /// <summary>The groups by key, in order of the key and in no other: small ones stand last, none is ranked.</summary>
    public IReadOnlyList<GroupView> Groups { get; }

    /// <summary>By month: what may go wrong, with the limits of each month by its own size. Empty below two months, and for any other grouping.</summary>
    public IReadOnlyList<RateChart> MonthLimits { get; init; } = [];

    /// <summary>For a month: whether its figures were kept.</summary>
    public ClosingView? Closing { get; private set; }

    /// <summary>The same with how the month was closed.</summary>
    public AuditView With(ClosingView? closing)
    {
        Closing = closing;
        return this;
    }
}
