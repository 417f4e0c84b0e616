using StagedMargins.Core.Mapping;
using StagedMargins.Core.Shape;

namespace StagedMargins.Drawing.Tests.Testing;

/// <summary>Maps that try the layout: each is usual somewhere or extreme in one way.</summary>
internal static class SampleMaps
{
    private static readonly Dictionary<string, Func<MapRequest>> All = new()
    {
        ["no-stage"] = () => Some.Case().Map(),
        ["unread"] = () => Some.Case().Taken([Some.Ellipse()], Some.Blocks(2)).Map(),
        ["unread-cumulative"] = () => Some.Case().Taken([Some.Ellipse()], Some.Blocks(2)).Map(cumulative: true),
        ["one-positive"] = () => OnePositive().Map(),
        ["one-positive-cumulative"] = () => OnePositive().Map(cumulative: true),
        ["left-behind"] = () => LeftBehind().Map(),
        ["left-behind-cumulative"] = () => LeftBehind().Map(cumulative: true),
        ["cleared"] = () => Cleared().Map(cumulative: true),
        ["earlier-stage"] = () => Cleared().Map(stage: 2),
        ["twelve-blocks"] = () => Blocks(12).Map(),
        ["fifty-two-blocks"] = () => Blocks(52).Map(),
        ["small"] = () => Sized(5, 4).Map(),
        ["large"] = () => Sized(120, 70).Map(),
        ["narrow"] = () => Sized(60, 9).Map(),
        ["traced"] = () => Traced(0).Map(),
        ["traced-cumulative"] = () => Traced(0).Map(cumulative: true),
        ["notched"] = () => Traced(4).Map(),
        ["six-stages"] = () => SixStages().Map(cumulative: true),
        ["six-stages-last"] = () => SixStages().Map(),
        ["whole-positive"] = () => WholePositive().Map(cumulative: true),
        ["overlapping-blocks"] = () => OverlappingBlocks().Map(),
        ["centre-positive"] = () => CentrePositive().Map(),
        ["long-words"] = () => LongWords().Map(stage: 1, showPatientRef: true),
        ["long-alerts"] = () => LongWords().Map(showPatientRef: true),
        ["over-twelve"] = () => OverTwelve().Map(),
        ["tiny-arcs"] = () => TinyArcs().Map(cumulative: true),
        ["all-kinds"] = () => AllKinds().Map(),
        ["all-kinds-cumulative"] = () => AllKinds().Map(cumulative: true),
        ["all-kinds-slide"] = () => AllKinds().Map() with { View = MapView.Slide },
        ["left-behind-slide-bare"] = () => LeftBehind().Map(cumulative: true) with { View = MapView.Slide, WithoutSurround = true },
        ["base-layer"] = () => BaseLayer().Map(cumulative: true),
        ["base-layer-stage"] = () => BaseLayer().Map(),
        ["undecided"] = () => SampleEvidence.Undecided().Map(),
        ["undecided-cumulative"] = () => SampleEvidence.Undecided().Map(cumulative: true),
        ["rim-and-base"] = () => SampleEvidence.RimAndBase().Map(),
        ["exhausted"] = () => SampleEvidence.Exhausted().Map(cumulative: true),
        ["replaced"] = () => SampleEvidence.Replaced().Map(),
        ["permanent-differs"] = () => SampleEvidence.PermanentDiffers().Map(cumulative: true),
        ["many-notices"] = () => SampleEvidence.ManyNotices().Map(cumulative: true),
        ["recall"] = () => Recall().Map(cumulative: true),
    };

    internal static IEnumerable<string> Names => All.Keys;

    internal static MapRequest Of(string name) => All[name]();

    internal static CaseLog OnePositive() => Some.Case()
        .Taken([Some.Ellipse()], [Some.Block("A", "12:00", "06:00", "blue", "red", true), Some.Block("B", "06:00", "12:00", "red", "blue", true)])
        .Clear("A").Tumour("B", Some.Edge("07:30", "09:00"));

    internal static CaseLog LeftBehind() => OnePositive()
        .Taken([Some.Rim("07:45", "09:15")], [Some.Block("A", "07:45", "09:15", "green", "black")])
        .Clear("A");

    internal static CaseLog Cleared() => LeftBehind()
        .Taken([Some.Rim("07:15", "08:00")], [Some.Block("A", "07:15", "08:00", "yellow", "orange")])
        .Clear("A");

    internal static CaseLog CentrePositive() => Some.Case()
        .Taken([Some.Ellipse()], Some.Blocks(2))
        .Tumour("A", Some.Centre(), Some.Floor("01:00", "02:30")).Clear("B");

    internal static CaseLog WholePositive() => Some.Case()
        .Taken([Some.Ellipse(20, 18)], [Some.Block("A", "12:00", "12:00", "blue", "blue", true)])
        .Tumour("A", Some.Edge("12:00", "12:00"), Some.Floor("12:00", "12:00"), Some.Centre());

    internal static CaseLog OverTwelve() => Some.Case()
        .Taken([Some.Ellipse()], [Some.Block("A", "09:00", "03:00", "blue", "red", true), Some.Block("B", "03:00", "09:00", "red", "blue", true)])
        .Tumour("A", Some.Edge("11:00", "01:00"), Some.Floor("11:30", "12:30")).Clear("B");

    internal static CaseLog TinyArcs() => Some.Case()
        .Taken([Some.Ellipse()], Some.Blocks(4))
        .Tumour("A", Some.Edge("01:00", "01:01"), Some.Floor("01:00", "01:01"))
        .Tumour("B", Some.Edge("03:00", "03:01"), Some.Edge("03:40", "03:41"), Some.Edge("04:20", "04:21"))
        .Clear("C").Tumour("D", Some.Edge("11:59", "12:00"));

    internal static CaseLog AllKinds() => Some.Case()
        .Taken([Some.Ellipse(22, 18, "01:30")], Some.Blocks(4))
        .Tumour("A", Some.Edge("12:40", "01:50", FindingKind.PerineuralInvasion), Some.Edge("01:30", "02:20", FindingKind.Inflammation))
        .Tumour("B", Some.Floor("04:00", "05:10"), Some.Floor("03:20", "05:40", FindingKind.Inflammation), Some.Centre(FindingKind.Inflammation))
        .ReadBy(Some.Histotech, "C", ReadingOutcome.Clear, Some.Edge("07:00", "08:00", FindingKind.Scar), Some.Floor("06:30", "07:00", FindingKind.ActinicChange))
        .Read("D", ReadingOutcome.Unreadable);

    internal static CaseLog BaseLayer() => CentrePositive()
        .Taken(
            [Some.Base("12:30", "03:00", true, AnatomicalPlane.Muscle)],
            [Some.Block("A", "12:30", "03:00", "blue", "green"), new BlockEntry("B", null, true, null, null)])
        .Clear("A");

    internal static CaseLog Recall()
    {
        var to = Some.Case().Taken([Some.Ellipse()], Some.Blocks(2)).Clear("A", "B");
        to.End(new EndingEntry(CaseOutcome.Cleared, Some.At(90), null, null, null, RepairKind.Flap), null, Some.Surgeon, Some.At(91));
        return to.Tumour("B", Some.Edge("08:00", "08:40"));
    }

    private static CaseLog Blocks(int count)
    {
        var to = Some.Case().Taken([Some.Ellipse(24, 20)], Some.Blocks(count));
        var labels = Enumerable.Range(0, count).Select(Some.Label).ToArray();
        var (from, until) = (to.Case.Stages[0].Blocks[2].Arc!.Value.From, to.Case.Stages[0].Blocks[2].Arc!.Value.To);
        return to.Clear([.. labels.Where((_, i) => i is not (2 or 7))])
            .Tumour(labels[2], new FindingEntry(FindingKind.Tumour, Margin.Peripheral, new(from.Plus(2), until), null, false));
    }

    private static CaseLog Sized(decimal length, decimal width) => Some.Case()
        .Taken([Some.Ellipse(length, width, "02:00")], Some.Blocks(4))
        .Clear("A", "B").Tumour("C", Some.Edge("06:30", "07:30"), Some.Floor("07:00", "08:00"));

    private static CaseLog Traced(double notchMm)
    {
        var points = Enumerable.Range(0, 40).Select(i =>
        {
            var (sin, cos) = Math.SinCos(2 * Math.PI * i / 40);
            var radius = 10 + (1.6 * Math.Sin(i * 0.47)) + (i % 5 == 0 ? 0.7 : 0) - (i is > 22 and < 28 ? notchMm : 0);
            return ((decimal)Math.Round(radius * sin, 2), (decimal)Math.Round(radius * cos, 2));
        });
        return Some.Case()
            .Taken([Some.Whole(TraceOutline.FromMillimetres([.. points]))], Some.Blocks(4))
            .Tumour("A", Some.Edge("01:00", "02:40")).Clear("B").Tumour("C", Some.Edge("07:00", "08:10"), Some.Floor("06:30", "07:30")).Clear("D")
            .Taken([Some.Rim("12:45", "02:55", 3), Some.Rim("06:45", "08:25", 2.5m)], [Some.Block("A", "12:45", "02:55"), Some.Block("B", "06:45", "08:25", "green", "black")])
            .Clear("A").Tumour("B", Some.Edge("07:20", "07:50"));
    }

    private static CaseLog SixStages()
    {
        var to = Some.Case().Taken([Some.Ellipse(16, 12)], Some.Blocks(4)).Clear("B", "C", "D").Tumour("A", Some.Edge("12:30", "02:00"));
        for (var stage = 2; stage <= 6; stage++)
        {
            var (from, until) = ($"{(stage % 2 == 0 ? "12:15" : "12:45")}", $"0{stage}:15");
            to.Taken([Some.Rim(from, until, 1.5m)], [Some.Block("A", from, until, "blue", "orange")]);
            to = stage == 6 ? to.Clear("A") : to.Tumour("A", Some.Edge("01:00", $"0{stage}:00"));
        }

        return to;
    }

    private static CaseLog OverlappingBlocks() => Some.Case()
        .Taken([Some.Ellipse()],
        [
            Some.Block("A", "12:00", "05:00", "blue", "red", true), Some.Block("B", "04:00", "09:00", "green", "yellow"),
            Some.Block("C", "08:00", "01:00", "black", "orange"), Some.Block("D", "02:00", "08:30", "violet", "brown"),
            Some.Block("E", "12:00", "12:00", null, null, true),
        ])
        .Clear("A", "B").Tumour("C", Some.Edge("10:00", "11:00")).Clear("D", "E");

    private static CaseLog LongWords()
    {
        var twelve = string.Concat(Enumerable.Repeat("toward the crown of the head, ", 7))[..196] + " & <";
        const string Ink = "methylene tinted green and gold";
        return Some.Case(twelve)
            .Taken([Some.Ellipse()], [Some.Block("A1B2", "12:00", "06:00", Ink[..30], "red", true), Some.Block("WWWW", "06:00", "12:00", "chartreuse-nr.4711", "blue", true)])
            .Tumour("A1B2", [.. Enumerable.Range(0, 9).Select(i => Some.Edge($"0{1 + (i / 2)}:{(i % 2 == 0 ? "00" : "30")}", $"0{1 + (i / 2)}:{(i % 2 == 0 ? "10" : "40")}"))])
            .Clear("WWWW")
            .Taken([Some.Rim("09:00", "09:30", 1)], []);
    }
}
