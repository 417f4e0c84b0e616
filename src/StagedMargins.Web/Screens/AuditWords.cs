using System.Globalization;
using StagedMargins.Core;
using StagedMargins.Core.Audit;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;
using StagedMargins.Web.Features.Audit;

namespace StagedMargins.Web.Screens;

/// <summary>Figures of the audit as the pages say them.</summary>
internal static class AuditWords
{
    private const string None = "–";

    /// <summary>The rows of the main table: name, the figure whose cases stand behind it, and the value.</summary>
    internal static readonly IReadOnlyList<(string Name, string Figure, Func<FiguresView, string> Text)> Rows =
    [
        ("Cases", "", figures => Count(figures.Cases)),
        ("Stages", "", figures => Count(figures.Stages)),
        ("Stages per case, mean", "", figures => Number(figures.MeanStages)),
        ("Stages per case, median", "", figures => Number(figures.MedianStages)),
        ("Stages per case, standard deviation", "", figures => Number(figures.SdStages)),
        ("Blocks per stage", "", figures => Number(figures.BlocksPerStage)),
        ("Ended as cleared", "cleared", figures => Count(figures.Cleared)),
        (Terms.Of(CaseOutcome.StoppedWithTumour).Capitalised(), "stoppedWithTumour", figures => Count(figures.StoppedWithTumour)),
        (Terms.Of(CaseOutcome.StoppedNotCleared).Capitalised(), "stoppedNotCleared", figures => Count(figures.StoppedNotCleared)),
        ("Ended before any layer, not in any other figure", "withoutLayer", figures => Count(figures.CasesWithoutLayer)),
        ("Of these, ended as not done", "notDone", figures => Count(figures.NotDone)),
        ("Turnaround of a stage, median", "timed", figures => Minutes(figures.TurnaroundP50Minutes)),
        ("Turnaround of a stage, 90th percentile", "timed", figures => Minutes(figures.TurnaroundP90Minutes)),
        ("Stages with known turnaround", "timed", figures => Count(figures.StagesTimed)),
        ("Readings with result unreadable", "unreadable", figures => $"{Count(figures.Unreadable)} of {Count(figures.Readings)}, {Share(figures.UnreadableRate)}"),
        ("Readings with tissue not seen or not decidable", "notSeen", figures => $"{Count(figures.NotSeen)} of {Count(figures.Readings)}, {Share(figures.NotSeenRate)}"),
        ("Readings amended", "amendments", figures => $"{Count(figures.Amendments)}, {Count(figures.Recuts)} of them after a recut"),
        ("Readings withdrawn", "readingsWithdrawn", figures => Count(figures.ReadingsWithdrawn)),
        ("Stages corrected or withdrawn", "corrections", figures => Count(figures.Corrections)),
        ("Cases reopened, times", "reopenings", figures => Count(figures.Reopenings)),
        ("Reviews not answered", "reviewsOpen", figures => Count(figures.ReviewsOpen)),
        ("Reviews answered", "reviewsAnswered", figures => Count(figures.ReviewsAnswered)),
        ("Cases recalled", "recalls", figures => $"{Count(figures.Recalls)} (by chance {Number(figures.RecallsLower95)} to {Number(figures.RecallsUpper95)}, 95 %)"),
        ("Blocks with a second read, blind", "readTwice", figures => $"{Count(figures.ReadPairs)}, agreed on {Count(figures.ReadPairsAgreed)}{(figures.ReadPairsNotComparable == 0 ? "" : $"; {Count(figures.ReadPairsNotComparable)} more could not be compared")}"),
        ("Agreement beyond chance, Cohen's kappa", "readTwice", figures => figures.Kappa is null ? None : $"{Number(figures.Kappa)} ({Number(figures.KappaLower95)} to {Number(figures.KappaUpper95)}, 95 %)"),
        ("Defect area, mean", "defects", figures => figures.MeanDefectMm2 is null ? None : $"{Number(figures.MeanDefectMm2)} mm²"),
        ("Growth, defect ÷ lesion, mean", "grown", figures => Number(figures.MeanGrowth)),
        ("Tissue spared compared with a fixed margin, mean", "spared", figures => figures.MeanTissueSparedMm2 is null ? None : $"{Number(figures.MeanTissueSparedMm2)} mm²"),
        ("Defects below 1 cm²", "under1Cm2", figures => Count(figures.DefectBands["under1Cm2"])),
        ("Defects from 1 to below 4 cm²", "from1Cm2", figures => Count(figures.DefectBands["from1Cm2"])),
        ("Defects from 4 to below 10 cm²", "from4Cm2", figures => Count(figures.DefectBands["from4Cm2"])),
        ("Defects of 10 cm² or more", "from10Cm2", figures => Count(figures.DefectBands["from10Cm2"])),
    ];

    /// <summary>A way to group.</summary>
    internal static string Of(string grouping) => grouping switch
    {
        "areaClass" => "area class",
        "sizeBand" => "lesion size before surgery",
        _ => grouping,
    };

    /// <summary>A figure that changed since a month was closed.</summary>
    internal static string Of(ChangedFigure changed) => $"{changed.Figure} {changed.Kept?.ToJsonString() ?? None} → {changed.Now?.ToJsonString() ?? None}";

    /// <summary>The key of a group.</summary>
    internal static string Key(string key) => key switch
    {
        AuditReader.NotStated => "not stated",
        _ when EnumNames<TumourGroup>.TryParse(key, out var tumour) => Terms.Of(tumour),
        _ when EnumNames<SizeBand>.TryParse(key, out var size) => Terms.Of(size),
        _ => key,
    };

    /// <summary>Where a group's mean lies.</summary>
    internal static string Beside(GroupView group) => group switch
    {
        { SmallGroup: true } => $"fewer than {FunnelLimits.SmallBelow} cases: not compared",
        { MeanStages: null } or { Lower95: null } => None,
        _ when group.MeanStages > group.Upper998 => "above 99.8 %",
        _ when group.MeanStages < group.Lower998 => "below 99.8 %",
        _ when group.MeanStages > group.Upper95 => "above 95 %",
        _ when group.MeanStages < group.Lower95 => "below 95 %",
        _ => "within",
    };

    /// <summary>The chart of a figure by month, with the months outside their limits.</summary>
    internal static string Of(RateChart chart)
    {
        var name = Rows.First(row => row.Figure == chart.Figure).Name;
        var outside = chart.Months.Where(month => month.Outside).Select(month => month.Key).ToList();
        return $"{name}: {Number(100 * chart.Mean)} per 100 {chart.Per} on average. {(outside.Count == 0 ? "No month is outside its limits." : $"Outside the limits: {string.Join(", ", outside)}.")}";
    }

    /// <summary>A published value.</summary>
    internal static string Published(PublishedValue value) => value.Figure == "clearedByStage" ? Share(value.Value) : Number(value.Value);

    /// <summary>How sure a published value is.</summary>
    internal static string Certainty(string word) => word switch
    {
        "read" => "read in the publication",
        "abstract" => "read in its abstract",
        "secondHand" => "cited in another publication",
        "computed" => "calculated from published values",
        "fromMemory" => "from memory",
        _ => word,
    };

    /// <summary>A number with two digits.</summary>
    internal static string Number(double? value) => value?.ToString("0.00", CultureInfo.InvariantCulture) ?? None;

    /// <summary>A share in per cent.</summary>
    internal static string Share(double? share) => share is { } known ? $"{(known * 100).ToString("0.0", CultureInfo.InvariantCulture)} %" : None;

    /// <summary>A part of a whole in per cent, for a bar.</summary>
    internal static string Percent(long part, long whole) => whole == 0 ? "0" : (100.0 * part / whole).ToString("0.##", CultureInfo.InvariantCulture);

    private static string Count(long count) => count.ToString("#,0", CultureInfo.InvariantCulture);

    private static string Minutes(double? minutes) => minutes is { } known ? $"{known.ToString("0.#", CultureInfo.InvariantCulture)} min" : None;
}
