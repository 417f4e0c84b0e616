using NetTopologySuite.Geometries;
using NetTopologySuite.Geometries.Utilities;
using NetTopologySuite.Operation.Buffer;
using NetTopologySuite.Operation.Overlay;
using StagedMargins.Core.ClockFace;
using StagedMargins.Core.Shape;
using StagedMargins.Drawing.Content;
using StagedMargins.Drawing.Primitives;

namespace StagedMargins.Drawing.Face;

/// <summary>
/// Where marks lie on the face, in mm of the wound. Edge: bands along the outline. Floor: the outline drawn smaller about the
/// tumour's centre, so that hours stay where they are. Centre: a disc. Only the outline and what lies on it is to scale.
/// </summary>
internal sealed class FaceZones(FaceFrame frame)
{
    /// <summary>Where the floor's ring ends, as a share of the outline.</summary>
    internal const double FloorOuter = 0.56;

    /// <summary>Where the floor's ring begins.</summary>
    internal const double FloorInner = 0.40;

    /// <summary>Where the floor's target ends.</summary>
    internal const double FloorTargetOuter = 0.635;

    private const double FloorTargetInner = 0.585;
    private const double FloorInflammationInner = 0.32;
    private const double FloorInflammationOuter = 0.38;

    // Corners stay corners: round ones would run into one another where a rim ends.
    private static readonly BufferParameters Corners = new(24, EndCapStyle.Round, JoinStyle.Mitre, 1.6);

    private readonly Geometry speck = frame.Shape!.Factory.ToGeometry(new Envelope(-0.001, 0.001, -0.001, 0.001));
    private readonly double reachMm = frame.ToMm(2 * frame.Measures.RingOuter);

    // A kind's whole band, of which each of its marks is a part.
    private readonly Dictionary<(MarkPlace, MarkKind), Geometry> bands = [];

    private Geometry Shape => frame.Shape!;

    private Measures Measures => frame.Measures;

    /// <summary>Radius of the centre's disc, scene units.</summary>
    internal double CentreRadius => Math.Clamp(frame.Inradius * 0.17, Measures.CentreDisc / 4, Measures.CentreDisc);

    /// <summary>The zone of a mark, mm.</summary>
    internal Geometry ZoneOf(Mark mark) => mark.Place switch
    {
        MarkPlace.Centre => CentreZone(mark),
        _ => Wedge(Band(mark), mark.Arc!.Value),
    };

    /// <summary>A point in the middle of a mark's band.</summary>
    /// <param name="mark">The mark.</param>
    /// <param name="degrees">In which direction, clockwise from 12 o'clock.</param>
    internal ScenePoint Within(Mark mark, double degrees)
    {
        if (mark.Place == MarkPlace.Centre)
        {
            var (inner, outer) = CentreRadii(mark.Kind);
            return frame.At(degrees, inner == 0 ? outer * 0.72 : (inner + outer) / 2);
        }

        var edge = frame.EdgeAt(degrees);
        var (near, far) = mark.Place == MarkPlace.Peripheral ? EdgeDepths(mark.Kind) : (0, 0);
        var (low, high) = FloorShares(mark.Kind);
        return frame.At(degrees, mark.Place == MarkPlace.Peripheral ? edge + ((near + far) / 2) : edge * (low + high) / 2);
    }

    /// <summary>A point at the outer end of a mark's band, so that a sign in its middle stays free.</summary>
    /// <inheritdoc cref="Within"/>
    internal ScenePoint OuterEnd(Mark mark, double degrees) => frame.At(degrees, mark.Place switch
    {
        MarkPlace.Centre => CentreRadii(mark.Kind).Outer,
        MarkPlace.Peripheral => frame.EdgeAt(degrees) + EdgeDepths(mark.Kind).To,
        _ => frame.EdgeAt(degrees) * FloorShares(mark.Kind).Outer,
    });

    /// <summary>The part of the floor, drawn smaller, under an arc.</summary>
    internal Geometry FloorUnder(ClockArc arc) => Wedge(Scaled(FloorOuter), arc);

    /// <summary>The disc that stands for the middle of the floor.</summary>
    internal Geometry CentreDisc() => Disc(CentreRadius);

    /// <summary>Length of the wound's outer edge over an arc, mm.</summary>
    internal double EdgeLengthMm(ClockArc arc)
    {
        var edge = Shape.Factory.CreateMultiLineString([.. FaceFrame.Polygons(Shape).Select(polygon => (LineString)polygon.ExteriorRing)]);
        return arc.IsWhole ? edge.Length : Wedge(edge, arc).Length;
    }

    // Depths along the outline in scene units, outward positive.
    private (double From, double To) EdgeDepths(MarkKind kind) => kind switch
    {
        MarkKind.Target => (Measures.TargetOffset, Measures.TargetOffset + Measures.TargetBand),
        MarkKind.Inflammation => (-frame.Band * 1.6, -frame.Band * 1.12),
        _ => (-frame.Band, 0),
    };

    private static (double Inner, double Outer) FloorShares(MarkKind kind) => kind switch
    {
        MarkKind.Target => (FloorTargetInner, FloorTargetOuter),
        MarkKind.Inflammation => (FloorInflammationInner, FloorInflammationOuter),
        _ => (FloorInner, FloorOuter),
    };

    private (double Inner, double Outer) CentreRadii(MarkKind kind)
    {
        var (radius, step) = (CentreRadius, CentreRadius * 0.12);
        return kind switch
        {
            MarkKind.Target => (radius + step, radius + (2.4 * step)),
            MarkKind.Inflammation => (radius + (3.2 * step), radius + (4.8 * step)),
            _ => (0, radius),
        };
    }

    private Geometry Band(Mark mark)
    {
        var key = (mark.Place, mark.Kind);
        if (!bands.TryGetValue(key, out var band))
        {
            band = mark.Place == MarkPlace.Peripheral ? EdgeBand(mark.Kind) : FloorBand(mark.Kind);
            bands.Add(key, band);
        }

        return band;
    }

    private Geometry EdgeBand(MarkKind kind)
    {
        var (from, to) = EdgeDepths(kind);
        return Difference(Offset(to), Offset(from));
    }

    private Geometry FloorBand(MarkKind kind)
    {
        var (inner, outer) = FloorShares(kind);
        return Difference(Scaled(outer), Scaled(inner));
    }

    private Geometry CentreZone(Mark mark)
    {
        var (inner, outer) = CentreRadii(mark.Kind);
        return inner == 0 ? Disc(outer) : Difference(Disc(outer), Disc(inner));
    }

    private Geometry Offset(double units) => units == 0
        ? Shape
        : BufferOp.Buffer(Shape, frame.ToMm(units), Corners);

    private Geometry Scaled(double share) => new AffineTransformation().Scale(share, share).Transform(Shape);

    private Geometry Disc(double units) => BufferOp.Buffer(Shape.Factory.CreatePoint(new Coordinate(0, 0)), frame.ToMm(units), new BufferParameters(24));

    // Core's own wedge: a speck at the origin, widened over the arc to beyond every zone of the face.
    private Geometry Wedge(Geometry zone, ClockArc arc) => arc.IsWhole
        ? zone
        : SnappedOverlay.Combine(zone, Defect.Widened(speck, arc, reachMm), SpatialFunction.Intersection);

    private static Geometry Difference(Geometry from, Geometry taken) => SnappedOverlay.Combine(from, taken, SpatialFunction.Difference);
}
