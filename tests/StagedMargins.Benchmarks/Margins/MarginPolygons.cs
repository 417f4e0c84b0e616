using NetTopologySuite.Geometries;
using NetTopologySuite.Operation.Union;
using StagedMargins.Core.ClockFace;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Benchmarks.Margins;

/// <summary>One margin of a case as polygons, each arc a box on the unrolled circle, laid over one another by a geometry library.</summary>
/// <remarks>Of pieces that are the whole circle, and without alerts: less work than the program does.</remarks>
internal sealed class MarginPolygons(IReadOnlyList<Stage> stages, Margin margin)
{
    private static readonly GeometryFactory Factory = new();
    private static readonly Geometry Circle = Box(0, ClockPosition.MinutesInCircle);

    private readonly IReadOnlyList<(IReadOnlyList<Geometry> Read, IReadOnlyList<Geometry> Positive)> all = [.. stages.Select(stage => (
        (IReadOnlyList<Geometry>)[.. stage.Blocks.Where(block => block.IsAdequate).Select(block => Box(block.Arc!.Value))],
        (IReadOnlyList<Geometry>)[.. stage.Blocks.SelectMany(block => block.CountingReading!.Findings).Where(found => found.Margin == margin && found.IsPositive()).Select(found => Box(found.Arc!.Value))]))];

    /// <summary>Minutes that are outstanding after the last stage.</summary>
    internal double OutstandingMinutes()
    {
        Geometry outstanding = Factory.CreatePolygon();
        Geometry unread = Factory.CreatePolygon();
        foreach (var (read, positive) in all)
        {
            outstanding = outstanding.Difference(Circle).Union(UnaryUnionOp.Union(positive));
            unread = unread.Difference(Circle).Union(Circle.Difference(UnaryUnionOp.Union(read)));
        }

        return outstanding.Difference(unread).Area;
    }

    private static Geometry Box(ClockArc arc) => Box(arc.From.Minutes, arc.From.Minutes + arc.Minutes);

    private static Geometry Box(int from, int to) => Factory.ToGeometry(new Envelope(from, to, 0, 1));
}
