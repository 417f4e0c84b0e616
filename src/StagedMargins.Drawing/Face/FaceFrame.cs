using NetTopologySuite.Geometries;
using NetTopologySuite.Operation.Distance;
using StagedMargins.Core.ClockFace;
using StagedMargins.Drawing.Content;
using StagedMargins.Drawing.Primitives;

namespace StagedMargins.Drawing.Face;

/// <summary>
/// Where millimetres of the wound lie in the picture: origin at the middle of the clock ring, y toward 12 o'clock upward, to one
/// scale in all directions.
/// </summary>
internal sealed class FaceFrame
{
    private readonly IndexedFacetDistance? outline;

    private readonly bool isMirrored;

    private FaceFrame(ScenePoint middle, Geometry? shape, Measures measures, bool inked, MapView view)
    {
        isMirrored = view == MapView.Slide;
        (Middle, Shape, Measures) = (middle, shape, measures);
        var radius = inked ? measures.InkedShapeRadius : measures.ShapeRadius;
        Edge = shape is null ? [] : ToRings(shape);
        UnitsPerMm = shape is null ? 0 : radius / Edge.Max(ring => ring.Max(c => c.Distance(Origin)));
        Inradius = shape is null ? 0 : shape.Boundary.Distance(new Point(Origin)) * UnitsPerMm;
        outline = shape is null ? null : new IndexedFacetDistance(shape.Boundary);
        Band = Math.Clamp(Inradius * 0.28, measures.Band / 3, measures.Band);
    }

    private static Coordinate Origin => new(0, 0);

    /// <summary>The middle of the clock ring, which is the tumour's centre.</summary>
    internal ScenePoint Middle { get; }

    /// <summary>The wound in mm; null before any layer.</summary>
    internal Geometry? Shape { get; }

    /// <summary>The sizes of the map.</summary>
    internal Measures Measures { get; }

    /// <summary>Scene units to a millimetre; 0 before any layer.</summary>
    internal double UnitsPerMm { get; }

    /// <summary>The shortest way from the middle to the edge, scene units.</summary>
    internal double Inradius { get; }

    /// <summary>Width of a mark's band on the edge, scene units: narrower in a narrow wound.</summary>
    internal double Band { get; }

    private IReadOnlyList<Coordinate[]> Edge { get; }

    // Which way 3 o'clock lies: 1 to the right, −1 to the left.
    private int Rightward => isMirrored ? -1 : 1;

    /// <summary>The frame for the wound of a map.</summary>
    internal static FaceFrame Of(MapContent content, Measures measures, ScenePoint middle) =>
        new(middle, content.Wound?.Shape, measures, content.ShowsBlocks, content.Request.View);

    /// <summary>A point of the wound in the picture.</summary>
    internal ScenePoint ToScene(Coordinate mm) => new(Middle.X + (Rightward * mm.X * UnitsPerMm), Middle.Y - (mm.Y * UnitsPerMm));

    /// <summary>The point at an angle and a distance from the middle.</summary>
    /// <param name="degrees">Clockwise from 12 o'clock.</param>
    /// <param name="radius">Scene units.</param>
    internal ScenePoint At(double degrees, double radius)
    {
        var (sin, cos) = Math.SinCos(degrees * Math.PI / 180);
        return new ScenePoint(Middle.X + (Rightward * radius * sin), Middle.Y - (radius * cos));
    }

    /// <summary>The point at an angle and a distance from the middle, and from there sideways.</summary>
    /// <param name="degrees">Clockwise from 12 o'clock.</param>
    /// <param name="radius">Scene units.</param>
    /// <param name="across">Scene units toward later clock positions, at right angles to the angle.</param>
    internal ScenePoint At(double degrees, double radius, double across)
    {
        var at = At(degrees, radius);
        var (sin, cos) = Math.SinCos(degrees * Math.PI / 180);
        return new ScenePoint(at.X + (Rightward * across * cos), at.Y + (across * sin));
    }

    /// <summary>The angle at which a clock angle is seen in the picture, clockwise from up; and the other way round.</summary>
    /// <param name="degrees">Degrees, 0 to below 360.</param>
    internal double Seen(double degrees) => isMirrored ? (360 - degrees) % 360 : degrees;

    /// <summary>A length in mm for one in scene units.</summary>
    internal double ToMm(double units) => units / UnitsPerMm;

    /// <summary>Contours of a shape in mm.</summary>
    internal IReadOnlyList<Contour> ToContours(Geometry mm) =>
        [.. Polygons(mm).SelectMany(Rings).Select(ring => new Contour([.. ring.Coordinates.SkipLast(1).Select(ToScene)], true))];

    /// <summary>How far a shape reaches from the middle in a direction, scene units; 0 where it does not.</summary>
    /// <param name="shape">The shape, mm.</param>
    /// <param name="degrees">Clockwise from 12 o'clock.</param>
    internal double Reach(Geometry shape, double degrees) => Reach(ToRings(shape), degrees);

    /// <summary>How far the wound reaches in a direction, scene units.</summary>
    internal double EdgeAt(double degrees) => Reach(Edge, degrees);

    /// <summary>How far a point of the picture is from the wound's outline, scene units.</summary>
    internal double DistanceToEdge(ScenePoint at)
    {
        var mm = new Coordinate(Rightward * (at.X - Middle.X) / UnitsPerMm, (Middle.Y - at.Y) / UnitsPerMm);
        return outline!.Distance(Shape!.Factory.CreatePoint(mm)) * UnitsPerMm;
    }

    /// <summary>The polygons of a shape.</summary>
    internal static IEnumerable<Polygon> Polygons(Geometry shape) =>
        Enumerable.Range(0, shape.NumGeometries).Select(shape.GetGeometryN).OfType<Polygon>().Where(polygon => !polygon.IsEmpty);

    /// <summary>Clock minutes as an angle, degrees.</summary>
    internal static double Degrees(ClockPosition position) => position.Minutes / 2.0;

    /// <summary>The angle part of the way along an arc, degrees from 12 o'clock, 0 to below 360.</summary>
    internal static double Degrees(ClockArc arc, double fraction) => (Degrees(arc.From) + (arc.Minutes / 2.0 * fraction)) % 360;

    private static IEnumerable<LineString> Rings(Polygon polygon) => polygon.InteriorRings.Prepend(polygon.ExteriorRing);

    private static List<Coordinate[]> ToRings(Geometry shape) => [.. Polygons(shape).Select(polygon => polygon.ExteriorRing.Coordinates)];

    private double Reach(IEnumerable<Coordinate[]> rings, double degrees)
    {
        var (sin, cos) = Math.SinCos(degrees * Math.PI / 180);
        var farthest = 0.0;
        foreach (var ring in rings)
        {
            for (var i = 1; i < ring.Length; i++)
            {
                farthest = Math.Max(farthest, Crossing(ring[i - 1], ring[i], sin, cos));
            }
        }

        return farthest * UnitsPerMm;
    }

    // How far along the ray (sin, cos) from the origin the line from a to b is met; 0 where it is not.
    private static double Crossing(Coordinate a, Coordinate b, double sin, double cos)
    {
        var (sideA, sideB) = ((a.X * cos) - (a.Y * sin), (b.X * cos) - (b.Y * sin));
        if (sideA == sideB || sideA * sideB > 0)
        {
            return 0;
        }

        var t = sideA / (sideA - sideB);
        return ((a.X + (t * (b.X - a.X))) * sin) + ((a.Y + (t * (b.Y - a.Y))) * cos);
    }
}
