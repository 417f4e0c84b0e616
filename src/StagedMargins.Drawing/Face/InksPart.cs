using StagedMargins.Core.ClockFace;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;
using StagedMargins.Drawing.Lettering;
using StagedMargins.Drawing.Primitives;

namespace StagedMargins.Drawing.Face;

/// <summary>
/// The ink at each cut edge of the blocks: a bar of its colour along the cut, on the block's own side, and its name beside the
/// edge. Where the names of all do not fit, none is written and the table has them, as it has those of the floor where blocks of
/// the edge lie over it. A block that was embedded again has no ink of its own: the later one has it.
/// </summary>
internal sealed class InksPart(Stage stage, FaceFrame frame, BlockPlace place, OccupiedAreas occupied)
{
    private const double BarLength = 32;
    private const double BarWidth = 6;
    private const double FromCut = 9;
    private const int LongestName = 8;
    private static readonly double[] Nudges = [0, 4, -4, 8, -8, 12, -12, 16, -16, 20, -20];

    private Measures M => frame.Measures;

    private sealed record Edge(Block Block, ClockPosition Position, bool IsFirst, string Ink);

    /// <summary>The bars of known colours.</summary>
    internal IEnumerable<SceneGroup> Bars() =>
        from edge in Edges()
        where Palette.Ink(edge.Ink) is not null
        select new SceneGroup(SceneRole.Ink, $"{edge.Ink}, block {edge.Block.Label} at {edge.Position.InSentence()}", [Bar(edge)]);

    /// <summary>The names, or none of them.</summary>
    internal IReadOnlyList<SceneGroup> Names()
    {
        var names = new List<SceneGroup>();
        var edges = Edges().ToList();
        var atTheEdge = edges.Where(edge => !place.IsOfFloor(edge.Block)).ToList();

        // A name beside the floor would lie on the tissue of the edge, and be taken for its ink.
        foreach (var cut in (atTheEdge.Count == 0 ? edges : atTheEdge).GroupBy(edge => (edge.Position, edge.Ink.ToUpperInvariant())))
        {
            // Both sides of a cut in one ink need the name once; two inks stand each on their own side.
            var isShared = cut.Count() > 1;
            var side = isShared ? 0 : cut.First().IsFirst ? 4.5 : -4.5;
            if (Name(cut.First(), side) is not { } name)
            {
                return [];
            }

            names.Add(name);
        }

        return names;
    }

    private IEnumerable<Edge> Edges() =>
        from block in stage.Blocks
        where block.Arc is not null && !stage.IsReplaced(block)
        let arc = block.Arc!.Value
        from edge in new[] { (Position: arc.From, IsFirst: true, Ink: block.FromInk), (Position: arc.To, IsFirst: false, Ink: block.ToInk) }
        where edge.Ink is not null
        select new Edge(block, edge.Position, edge.IsFirst, edge.Ink);

    private ScenePath Bar(Edge edge)
    {
        var degrees = FaceFrame.Degrees(edge.Position);
        var reach = place.Reach(edge.Block, degrees);
        var from = place.Cut(edge.Block, degrees).From;

        // Inward of the edge's marks where the cut is long enough, so that red ink is never taken for tumour at the edge.
        var inset = frame.Band * 1.2;
        var outer = reach - (reach - inset - BarLength >= from ? inset : 2);
        var inner = Math.Max(outer - BarLength, outer * 0.5);

        // Beside the cut by half a bar, but never past the middle of a narrow block.
        var half = edge.Block.Arc!.Value.Minutes * Math.PI / 720 * inner;
        var beside = Math.Min((BarWidth / 2) + 1, half / 2) * (edge.IsFirst ? 1 : -1);
        var width = Math.Min(BarWidth, half) / 2;
        ScenePoint Corner(double radius, double across) => frame.At(degrees, radius, across);

        return ScenePath.Filled(
            new Contour([Corner(inner, beside - width), Corner(outer, beside - width), Corner(outer, beside + width), Corner(inner, beside + width)], true),
            Palette.Ink(edge.Ink)!.Value,
            new Pen(Palette.Wound, M.Line * 0.4));
    }

    private SceneGroup? Name(Edge edge, double side)
    {
        var style = TextStyle.Regular(M.Small, Palette.Text);
        var shown = edge.Ink.Length <= LongestName ? edge.Ink : edge.Ink[..(LongestName - 1)].TrimEnd() + "…";
        foreach (var nudge in Nudges)
        {
            var degrees = FaceFrame.Degrees(edge.Position) + side + nudge;
            var (sin, cos) = Math.SinCos(degrees * Math.PI / 180);
            var (width, height) = (style.WidthOf(shown), M.Small);
            var radius = place.Reach(edge.Block, FaceFrame.Degrees(edge.Position)) + M.TargetOffset + M.TargetBand + FromCut;

            // The box's nearest side or corner lies at the radius, whichever way the cut points.
            var out1 = radius + (Math.Abs(sin) * width / 2) + (Math.Abs(cos) * height / 2);
            var text = style.WriteAround(shown, frame.At(degrees, out1));
            if (IsInsideRing(text.Box) && occupied.TryTake(text.Box.Grown(2)))
            {
                return new SceneGroup(SceneRole.InkName, $"{edge.Ink}, block {edge.Block.Label} at {edge.Position.InSentence()}", [text]);
            }
        }

        return null;
    }

    private bool IsInsideRing(SceneBox box)
    {
        var clear = M.RingInner - (M.Numeral * 0.4);
        var farX = Math.Max(Math.Abs(box.Left - frame.Middle.X), Math.Abs(box.Right - frame.Middle.X));
        var farY = Math.Max(Math.Abs(box.Top - frame.Middle.Y), Math.Abs(box.Bottom - frame.Middle.Y));
        return (farX * farX) + (farY * farY) < clear * clear;
    }
}
