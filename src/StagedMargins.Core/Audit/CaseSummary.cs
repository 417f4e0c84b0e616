using StagedMargins.Core.Care;
using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Shape;

namespace StagedMargins.Core.Audit;

/// <summary>Tumours as the audit groups them, by ICD-O-3 morphology.</summary>
public enum TumourGroup
{
    /// <summary>Basal cell carcinoma, 809x.</summary>
    BasalCell,

    /// <summary>Squamous cell carcinoma, 805x to 808x.</summary>
    SquamousCell,

    /// <summary>Melanocytic, 872x to 879x.</summary>
    Melanocytic,

    /// <summary>Any other.</summary>
    Other,
}

/// <summary>The lesion's largest diameter before surgery, mm, as the audit groups it. 20 and 40 mm are the limits of the T categories; 10 mm is common practice, no source.</summary>
public enum SizeBand
{
    /// <summary>Below 10 mm.</summary>
    Under10Mm,

    /// <summary>10 mm to below 20 mm.</summary>
    From10Mm,

    /// <summary>20 mm to below 40 mm.</summary>
    From20Mm,

    /// <summary>40 mm and above.</summary>
    From40Mm,

    /// <summary>No size was entered.</summary>
    NotMeasured,
}

/// <summary>One stage as the audit counts it.</summary>
/// <param name="Number">Its number in the case.</param>
/// <param name="TurnaroundMinutes">Whole minutes from the layer taken until its last block had an adequate reading; null where that is not known.</param>
public sealed record StageSummary(int Number, int? TurnaroundMinutes);

/// <summary>Second reads of which both results are in, by what the two readers said of the block.</summary>
/// <param name="BothClear">Clear and clear.</param>
/// <param name="BothTumour">Tumour and tumour.</param>
/// <param name="TumourThenClear">Tumour by the first reader, clear by the second.</param>
/// <param name="ClearThenTumour">Clear by the first reader, tumour by the second.</param>
/// <param name="NotComparable">Pairs in which a reader could not read the block; they have no part in the agreement.</param>
public sealed record PairedReads(int BothClear, int BothTumour, int TumourThenClear, int ClearThenTumour, int NotComparable)
{
    /// <summary>The pairs of a case.</summary>
    public static PairedReads Of(SurgicalCase surgicalCase)
    {
        var pairs = surgicalCase.SecondReads.Select(surgicalCase.PairOf).OfType<ReadPair>().ToList();
        return new PairedReads(
            pairs.Count(pair => pair is { First: ReadingOutcome.Clear, Second: ReadingOutcome.Clear }),
            pairs.Count(pair => pair is { First: ReadingOutcome.Tumour, Second: ReadingOutcome.Tumour }),
            pairs.Count(pair => pair is { First: ReadingOutcome.Tumour, Second: ReadingOutcome.Clear }),
            pairs.Count(pair => pair is { First: ReadingOutcome.Clear, Second: ReadingOutcome.Tumour }),
            pairs.Count(pair => pair.First == ReadingOutcome.Unreadable || pair.Second == ReadingOutcome.Unreadable));
    }
}

/// <summary>
/// What the audit needs of an ended case and nothing else: no patient, no words. A case that is paused, or was opened again, has none. Derived data: it follows from the record and can be
/// made again from it at any time.
/// </summary>
/// <param name="Tumour">The tumour's group.</param>
/// <param name="SizeBand">The lesion's size.</param>
/// <param name="Blocks">Blocks of all stages.</param>
/// <param name="ClearedStage">The stage from which on the margins stayed clear by the readings that count now; null where the case did not end as cleared, or is no longer clear.</param>
/// <param name="Readings">Readings, amended ones and amendments included.</param>
/// <param name="Unreadable">Of them, those that could not be read.</param>
/// <param name="Amendments">Of them, those that amend another.</param>
/// <param name="Recuts">Of the amendments, those of a reading that could not be read: a recut, not a change of mind.</param>
/// <param name="NotSeen">Of the readings, those that say of a place that it was not seen, or seen and not decidable.</param>
/// <param name="Withdrawn">Of the readings, those that were withdrawn, by themselves or by a correction of their stage.</param>
/// <param name="Corrections">Corrections of stages that stand, and stages withdrawn.</param>
/// <param name="Reopenings">How often its end was taken back.</param>
/// <param name="ReviewsOpen">Reviews that nobody has answered.</param>
/// <param name="ReviewsAnswered">Reviews that a surgeon answered.</param>
/// <param name="DefectUm2">Area of the defect by its layers, whole square micrometres; null without tissue.</param>
/// <param name="LesionUm2">Area of the lesion before surgery, whole square micrometres; null where no size was entered.</param>
/// <param name="SparedUm2">Tissue spared against a fixed margin, whole square micrometres; negative where the defect is larger; null where no margin is published.</param>
/// <param name="Pairs">Its second reads.</param>
/// <param name="Stages">Its stages.</param>
public sealed record CaseSummary(
    TumourGroup Tumour,
    SizeBand SizeBand,
    int Blocks,
    int? ClearedStage,
    int Readings,
    int Unreadable,
    int Amendments,
    int Recuts,
    int NotSeen,
    int Withdrawn,
    int Corrections,
    int Reopenings,
    int ReviewsOpen,
    int ReviewsAnswered,
    long? DefectUm2,
    long? LesionUm2,
    long? SparedUm2,
    PairedReads Pairs,
    IReadOnlyList<StageSummary> Stages)
{
    /// <summary>The longest turnaround that is taken for one, minutes (a week); a longer one is a date entered wrongly.</summary>
    public const int LongestTurnaroundMinutes = 7 * 24 * 60;

    private const double Um2PerMm2 = 1e6;

    /// <summary>The summary of an ended case.</summary>
    /// <exception cref="InvalidOperationException">The case is open.</exception>
    public static CaseSummary Of(SurgicalCase ended)
    {
        if (ended.Ending is null)
        {
            throw new InvalidOperationException("An open case has no part in the audit.");
        }

        var blocks = ended.Stages.SelectMany(stage => stage.Blocks).ToList();
        var readings = blocks.SelectMany(block => block.Readings).ToList();
        var outcomes = readings.ToDictionary(reading => reading.Id, reading => reading.Outcome);
        var amendments = readings.Where(reading => reading.AmendsId is not null).ToList();
        var defect = Defect.After(ended.Stages)?.Size;
        return new CaseSummary(
            GroupOf(ended.Facts.Tumour),
            BandOf(ended.Facts.PreOperative),
            blocks.Count,
            ClearedStageOf(ended),
            readings.Count,
            readings.Count(reading => reading.Outcome == ReadingOutcome.Unreadable),
            amendments.Count,
            amendments.Count(reading => outcomes[reading.AmendsId!.Value] == ReadingOutcome.Unreadable),
            readings.Count(reading => reading.Findings.Any(finding => finding.IsUndecided())),
            readings.Count(reading => reading.Withdrawal is not null),
            ended.Stages.Sum(stage => stage.Corrections.Count) + ended.WithdrawnStages.Count,
            ended.Endings.Count(ending => ending.Reopened is not null),
            ended.OpenReviews().Count(),
            ended.Reviews.Count(review => review.Answer is not null),
            Um2(defect?.AreaMm2),
            Um2(ended.Facts.PreOperative?.AreaMm2()),
            Um2(defect is null ? null : TissueSpared.Of(ended.Facts, defect)?.SparedMm2),
            PairedReads.Of(ended),
            [.. ended.Stages.Select(stage => new StageSummary(stage.Number, TurnaroundOf(stage)))]);
    }

    /// <summary>The group of a tumour.</summary>
    public static TumourGroup GroupOf(Tumour tumour) => tumour switch
    {
        _ when tumour.IsBasalCell() => TumourGroup.BasalCell,
        _ when tumour.IsSquamous() => TumourGroup.SquamousCell,
        { Morphology: ['8', '7', >= '2', ..] } => TumourGroup.Melanocytic,
        _ => TumourGroup.Other,
    };

    /// <summary>The band of a size.</summary>
    public static SizeBand BandOf(PreOperativeSize? size) => size?.Largest().Micrometres switch
    {
        null => SizeBand.NotMeasured,
        < 10_000 => SizeBand.Under10Mm,
        < 20_000 => SizeBand.From10Mm,
        < 40_000 => SizeBand.From20Mm,
        _ => SizeBand.From40Mm,
    };

    // The last stage before which the margins were not clear: what seemed clear and then showed tumour was not.
    private static int? ClearedStageOf(SurgicalCase ended)
    {
        int? from = null;
        var margins = CaseMargins.Untouched(default);
        foreach (var stage in ended.Stages)
        {
            margins = margins.Then(stage);
            from = margins.State == CaseState.Cleared ? from ?? stage.Number : null;
        }

        return ended.Ending!.Outcome == CaseOutcome.Cleared ? from : null;
    }

    // Until every block had its first adequate reading: a recut belongs to the stage's time, an amendment weeks later does not. What was
    // withdrawn was no reading of the block, and a block embedded again is read as the other.
    private static int? TurnaroundOf(Stage stage)
    {
        var firsts = stage.Blocks.Where(block => !stage.IsReplaced(block))
            .Select(block => block.Readings.FirstOrDefault(reading => reading is { IsAdequate: true, Withdrawal: null })).ToList();
        if (firsts.Count == 0 || firsts.Contains(null))
        {
            return null;
        }

        var minutes = (firsts.Max(reading => reading!.ReadAt.Utc) - stage.TakenAt.Utc).TotalMinutes;
        return minutes is >= 0 and <= LongestTurnaroundMinutes ? (int)Math.Round(minutes, MidpointRounding.AwayFromZero) : null;
    }

    private static long? Um2(double? mm2) => mm2 is { } area ? (long)Math.Round(area * Um2PerMm2) : null;
}
