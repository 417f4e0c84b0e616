using System.Globalization;
using StagedMargins.Core.Audit;
using StagedMargins.Web.Features.Audit;

namespace StagedMargins.Web.Screens;

/// <summary>Figures of the audit as the pages say them.</summary>
internal static class AuditWords
{
    private const string None = "–";

    /// <summary>The rows of the main table: name, the figure whose cases stand behind it, and the value.</summary>
    internal static readonly IReadOnlyList<(string Name, string Figure, Func<FiguresView, string> Of)> Rows =
    [
        ("Cases", "", of => Count(of.Cases)),
        ("Stages", "", of => Count(of.Stages)),
        ("Stages per case, mean", "", of => Number(of.MeanStages)),
        ("Stages per case, median", "", of => Number(of.MedianStages)),
        ("Stages per case, standard deviation", "", of => Number(of.SdStages)),
        ("Blocks per stage", "", of => Number(of.BlocksPerStage)),
        ("Ended as cleared", "cleared", of => Count(of.Cleared)),
        ("Stopped with tumour", "stoppedWithTumour", of => Count(of.StoppedWithTumour)),
        ("Continues later", "continuesLater", of => Count(of.ContinuesLater)),
        ("Ended before any layer, in no other figure", "withoutLayer", of => Count(of.CasesWithoutLayer)),
        ("Turnaround of a stage, half within", "timed", of => Minutes(of.TurnaroundP50Minutes)),
        ("Turnaround of a stage, nine of ten within", "timed", of => Minutes(of.TurnaroundP90Minutes)),
        ("Stages whose turnaround is known", "timed", of => Count(of.StagesTimed)),
        ("Readings that could not be read", "unreadable", of => $"{Count(of.Unreadable)} of {Count(of.Readings)}, {Share(of.UnreadableRate)}"),
        ("Readings amended", "amendments", of => $"{Count(of.Amendments)}, of them {Count(of.Recuts)} after a recut"),
        ("Cases recalled", "recalls", of => $"{Count(of.Recalls)} (by chance {Number(of.RecallsLower95)} to {Number(of.RecallsUpper95)}, 95 %)"),
        ("Blocks read twice, the second time blind", "readTwice", of => $"{Count(of.ReadPairs)}, agreed on {Count(of.ReadPairsAgreed)}{(of.ReadPairsNotComparable == 0 ? "" : $"; {Count(of.ReadPairsNotComparable)} more could not be compared")}"),
        ("Agreement of two readers beyond chance, Cohen's kappa", "readTwice", of => of.Kappa is null ? None : $"{Number(of.Kappa)} ({Number(of.KappaLower95)} to {Number(of.KappaUpper95)}, 95 %)"),
        ("Defect area, mean", "defects", of => of.MeanDefectMm2 is null ? None : $"{Number(of.MeanDefectMm2)} mm²"),
        ("Growth, defect ÷ lesion, mean", "grown", of => Number(of.MeanGrowth)),
        ("Tissue spared against a fixed margin, mean", "spared", of => of.MeanTissueSparedMm2 is null ? None : $"{Number(of.MeanTissueSparedMm2)} mm²"),
        ("Defects below 1 cm²", "under1Cm2", of => Count(of.DefectBands["under1Cm2"])),
        ("Defects from 1 to below 4 cm²", "from1Cm2", of => Count(of.DefectBands["from1Cm2"])),
        ("Defects from 4 to below 10 cm²", "from4Cm2", of => Count(of.DefectBands["from4Cm2"])),
        ("Defects from 10 cm²", "from10Cm2", of => Count(of.DefectBands["from10Cm2"])),
    ];

    /// <summary>A way to group.</summary>
    internal static string Of(string grouping) => grouping switch
    {
        "areaClass" => "area class",
        "sizeBand" => "size before surgery",
        _ => grouping,
    };

    /// <summary>A figure that changed since a month was closed.</summary>
    internal static string Of(ChangedFigure changed) => $"{changed.Figure} {changed.Kept?.ToJsonString() ?? None} → {changed.Now?.ToJsonString() ?? None}";

    /// <summary>The key of a group.</summary>
    internal static string Key(string key) => key switch
    {
        AuditReader.NotStated => "not stated",
        "basalCell" => "basal cell",
        "squamousCell" => "squamous cell",
        "under10Mm" => "below 10 mm",
        "from10Mm" => "10 to below 20 mm",
        "from20Mm" => "20 to below 40 mm",
        "from40Mm" => "40 mm and above",
        "notMeasured" => "not measured",
        _ => key,
    };

    /// <summary>Where a group's mean lies.</summary>
    internal static string Beside(GroupView group) => group switch
    {
        { SmallGroup: true } => $"below {FunnelLimits.SmallBelow} cases: not compared",
        { MeanStages: null } or { Lower95: null } => None,
        _ when group.MeanStages > group.Upper998 => "above 99.8 %",
        _ when group.MeanStages < group.Lower998 => "below 99.8 %",
        _ when group.MeanStages > group.Upper95 => "above 95 %",
        _ when group.MeanStages < group.Lower95 => "below 95 %",
        _ => "within",
    };

    /// <summary>A published value.</summary>
    internal static string Published(PublishedValue value) => value.Figure == "clearedByStage" ? Share(value.Value) : Number(value.Value);

    /// <summary>How sure a published value is.</summary>
    internal static string Certainty(string word) => word switch
    {
        "read" => "read in the publication",
        "abstract" => "read in its abstract",
        "secondHand" => "read at second hand",
        "computed" => "worked out from printed values",
        "fromMemory" => "from memory",
        _ => word,
    };

    /// <summary>A number with two digits.</summary>
    internal static string Number(double? value) => value?.ToString("0.00", CultureInfo.InvariantCulture) ?? None;

    /// <summary>A share in per cent.</summary>
    internal static string Share(double? share) => share is { } of ? $"{(of * 100).ToString("0.0", CultureInfo.InvariantCulture)} %" : None;

    /// <summary>A part of a whole in per cent, for a bar.</summary>
    internal static string Percent(long part, long of) => of == 0 ? "0" : (100.0 * part / of).ToString("0.##", CultureInfo.InvariantCulture);

    private static string Count(long count) => count.ToString("#,0", CultureInfo.InvariantCulture);

    private static string Minutes(double? minutes) => minutes is { } of ? $"{of.ToString("0.#", CultureInfo.InvariantCulture)} min" : None;
}
