using NetTopologySuite.Geometries;
using NetTopologySuite.Geometries.Utilities;
using NetTopologySuite.Operation.Buffer;
using NetTopologySuite.Operation.Overlay;
using NetTopologySuite.Operation.OverlayNG;
using NetTopologySuite.Simplify;
using StagedMargins.Core.ClockFace;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Shape;

/// <summary>
/// The wound as the layers say it is. Millimetres, origin at the tumour's centre, y toward 12 o'clock, x toward 3 o'clock.
/// </summary>
public sealed class Defect
{
    // Arcs are drawn with chords; a chord's middle is off by at most this many millimetres, far below what a hand can cut.
    private const double ChordErrorMm = 0.0005;
    private const int QuadrantSegments = 64;
    private const double JaggedFrom = 1.25;
    private const int CornersInStretch = 16;

    private Defect(Geometry shape, AnatomicalPlane? plane)
    {
        (Shape, Plane) = (shape, plane);
    }

    /// <summary>The wound seen from above.</summary>
    public Geometry Shape { get; }

    /// <summary>The deepest plane reached, where any was noted.</summary>
    public AnatomicalPlane? Plane { get; }

    /// <summary>Its measures, taken when they are asked for: of most wounds only the shape is.</summary>
    public DefectSize Size => field ??= DefectSize.Of(Shape, Plane);

    /// <summary>The wound after some stages, or null before the first.</summary>
    /// <param name="stages">Stages 1 to n, in order.</param>
    public static Defect? After(IEnumerable<Stage> stages) => Each(stages) is [.., var last] ? last : null;

    /// <summary>The wound after each of some stages, first to last.</summary>
    /// <param name="stages">Stages 1 to n, in order.</param>
    public static IReadOnlyList<Defect> Each(IEnumerable<Stage> stages)
    {
        var all = new List<Defect>();
        foreach (var stage in stages)
        {
            all.Add(DefectMemory.After(all.Count == 0 ? null : all[^1], stage, Next));
        }

        return all;
    }

    /// <summary>The strip that a rim of a width adds to a shape over an arc: its outward offset inside the wedge of the arc.</summary>
    /// <param name="present">The present wound.</param>
    /// <param name="arc">The arc, wedge apex at the origin.</param>
    /// <param name="widthMm">Width in mm, above 0.</param>
    /// <returns>The part of the widened wound that lies in the wedge, present wound included.</returns>
    public static Geometry Widened(Geometry present, ClockArc arc, double widthMm) => Within(arc, Widened(present, widthMm));

    // Thinned out here and nowhere else: the wound beside a rim keeps its corners, so that no layer makes it smaller.
    private static Geometry Widened(Geometry present, double widthMm) => TopologyPreservingSimplifier.Simplify(Offset(present, widthMm), ChordErrorMm);

    private static Geometry Within(ClockArc arc, Geometry widened)
    {
        if (arc.IsWhole)
        {
            return widened;
        }

        var reach = widened.EnvelopeInternal;
        var far = 4 * (Math.Max(Math.Abs(reach.MinX), Math.Abs(reach.MaxX)) + Math.Max(Math.Abs(reach.MinY), Math.Abs(reach.MaxY)));
        var inside = SnappedOverlay.Combine(widened, Wedge(arc, far), SpatialFunction.Intersection);

        // Where a side of the wedge runs along an edge, the intersection has lines too; they hold no tissue, and no union takes them.
        return inside.Factory.BuildGeometry(PolygonExtracter.GetPolygons(inside));
    }

    // The offset of a jagged edge crosses itself at every tooth, so its cost grows with the square of the teeth within its reach.
    // An edge much longer than a string around it is therefore widened a few corners at a time, which gives the same shape.
    private static Geometry Offset(Geometry present, double widthMm)
    {
        var rounded = new BufferParameters(QuadrantSegments);
        if (present.Length < JaggedFrom * present.ConvexHull().Length)
        {
            return BufferOp.Buffer(present, widthMm, rounded);
        }

        var edges = LinearComponentExtracter.GetLines(present).SelectMany(ring => Stretches(ring.Coordinates));
        return OverlayNGRobust.Union([present, .. edges.Select(edge => BufferOp.Buffer(present.Factory.CreateLineString(edge), widthMm, rounded))]);
    }

    private static IEnumerable<Coordinate[]> Stretches(Coordinate[] ring)
    {
        for (var i = 0; i < ring.Length - 1; i += CornersInStretch)
        {
            yield return ring[i..Math.Min(i + CornersInStretch + 1, ring.Length)];
        }
    }

    private static Defect Next(Defect? before, Stage stage)
    {
        var planes = stage.Pieces.Select(piece => piece.Plane).Append(before?.Plane);
        return new Defect(ShapeAfter(before?.Shape, stage), planes.Max());
    }

    private static Geometry ShapeAfter(Geometry? present, Stage stage)
    {
        if (present is null)
        {
            return stage.Pieces[0].Outline!.ToPolygon();
        }

        // Every rim of a layer is cut outside the wound as it was before that layer, so their order does not matter.
        var grown = present;
        var rims = stage.Pieces.Where(piece => piece.Width is not null).ToList();
        var widened = rims.Select(rim => rim.Width!).Distinct().ToDictionary(width => width, width => Widened(present, width.Millimetres));
        foreach (var rim in rims)
        {
            var strip = Within(rim.Arc!.Value, widened[rim.Width!]);

            // Sides that two rims share are cut into ever more collinear pieces; their corners are joined up again.
            grown = TopologyPreservingSimplifier.Simplify(SnappedOverlay.Combine(grown, strip, SpatialFunction.Union), SnappedOverlay.SnapMm / 10);
        }

        return grown;
    }

    private static Polygon Wedge(ClockArc arc, double far)
    {
        // Steps of at most 60°, so that the chords stay outside the wound at four times its reach.
        var steps = (arc.Minutes + 119) / 120;
        var ring = new List<Coordinate> { new(0, 0) };
        for (var i = 0; i <= steps; i++)
        {
            var (sin, cos) = Math.SinCos(arc.From.Radians + (arc.Minutes * Math.PI / 360 * i / steps));
            ring.Add(new Coordinate(far * sin, far * cos));
        }

        ring.Add(new Coordinate(0, 0));
        return ShapeFactory.Millimetres.CreatePolygon([.. ring]);
    }
}
