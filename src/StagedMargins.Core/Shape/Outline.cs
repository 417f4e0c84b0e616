using System.Text.Json.Serialization;
using NetTopologySuite.Geometries;
using NetTopologySuite.Operation.Valid;
using StagedMargins.Core.ClockFace;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Shape;

/// <summary>
/// The outline of a whole layer. Millimetres, origin at the tumour's centre, y toward 12 o'clock, x toward 3 o'clock.
/// </summary>
[JsonDerivedType(typeof(EllipseOutline), "ellipse")]
[JsonDerivedType(typeof(TraceOutline), "trace")]
public abstract record Outline
{
    /// <summary>Refuses what runs around no tissue, crosses itself, or is longer than a trace can be.</summary>
    /// <exception cref="InvalidEntryException">It does.</exception>
    internal virtual void Guard()
    {
    }

    /// <summary>The outline as a polygon in millimetres.</summary>
    public abstract Polygon ToPolygon();
}

/// <summary>An ellipse around the tumour's centre.</summary>
/// <param name="Length">Its full length along the axis.</param>
/// <param name="Width">Its full width at right angles to the axis.</param>
/// <param name="Axis">Where its length points.</param>
public sealed record EllipseOutline(Length Length, Length Width, ClockPosition Axis) : Outline
{
    // 0.25° a step: the inscribed polygon is short of the ellipse by 3 parts in a million of its area.
    private const int Steps = 1_440;

    /// <inheritdoc/>
    public override Polygon ToPolygon()
    {
        var (along, across) = (Length.Millimetres / 2, Width.Millimetres / 2);
        var (sin, cos) = Math.SinCos(Axis.Radians);
        var ring = new Coordinate[Steps + 1];
        for (var i = 0; i < Steps; i++)
        {
            var (s, c) = Math.SinCos(2 * Math.PI * i / Steps);
            ring[i] = new Coordinate((along * c * sin) + (across * s * cos), (along * c * cos) - (across * s * sin));
        }

        ring[Steps] = ring[0].Copy();
        return ShapeFactory.Millimetres.CreatePolygon(ring);
    }
}

/// <summary>A point of a traced outline, in whole micrometres.</summary>
/// <param name="X">Toward 3 o'clock.</param>
/// <param name="Y">Toward 12 o'clock.</param>
public readonly record struct TracePoint(int X, int Y);

/// <summary>A traced outline: a simple polygon around the tumour's centre.</summary>
public sealed record TraceOutline : Outline
{
    /// <summary>Takes points that were checked before, as they were stored.</summary>
    [JsonConstructor]
    public TraceOutline(IReadOnlyList<TracePoint> points)
    {
        Points = points;
    }

    /// <summary>The corners in order, not closed.</summary>
    public IReadOnlyList<TracePoint> Points { get; }

    /// <summary>Makes an outline from traced points.</summary>
    /// <param name="points">x and y in millimetres, at least 3 different points, at most 5,000; closing the ring is optional.</param>
    /// <exception cref="InvalidEntryException">Too few or many, too far out, crossing itself, or not around the origin.</exception>
    public static TraceOutline FromMillimetres(IReadOnlyList<(decimal X, decimal Y)> points)
    {
        GuardCount(points.Count);
        var corners = new List<TracePoint>();
        foreach (var (x, y) in points)
        {
            var corner = new TracePoint(Micrometres(x), Micrometres(y));
            if (corners.Count == 0 || corners[^1] != corner)
            {
                corners.Add(corner);
            }
        }

        if (corners.Count > 1 && corners[0] == corners[^1])
        {
            corners.RemoveAt(corners.Count - 1);
        }

        var outline = new TraceOutline(corners);
        outline.Guard();
        return outline;
    }

    /// <inheritdoc/>
    public override Polygon ToPolygon()
    {
        var ring = Points.Append(Points[0]).Select(point => new Coordinate(point.X / 1000.0, point.Y / 1000.0));
        return ShapeFactory.Millimetres.CreatePolygon([.. ring]);
    }

    /// <summary>Equal where the points are.</summary>
    public bool Equals(TraceOutline? other) => other is not null && Points.SequenceEqual(other.Points);

    /// <inheritdoc/>
    public override int GetHashCode() => Points.Aggregate(0, HashCode.Combine);

    internal override void Guard()
    {
        GuardCount(Points.Count);
        if (Points.Any(point => Math.Max(Math.Abs(point.X), Math.Abs(point.Y)) > Length.LongestMicrometres))
        {
            throw OutOfReach();
        }

        if (Points.Count < 3)
        {
            throw new InvalidEntryException("trace", "At least 3 different points.");
        }

        var polygon = ToPolygon();
        if (!new IsValidOp(polygon).IsValid)
        {
            throw new InvalidEntryException("trace", "The outline crosses or touches itself, or has no area; trace it once around.");
        }

        if (!polygon.Contains(ShapeFactory.Millimetres.CreatePoint(new Coordinate(0, 0))))
        {
            throw new InvalidEntryException("trace", "The outline must run around the tumour's centre, which is the origin.");
        }
    }

    private static int Micrometres(decimal millimetres) => Math.Abs(millimetres) <= Length.LongestMicrometres / 1000m
        ? (int)decimal.Round(millimetres * 1000m, MidpointRounding.AwayFromZero)
        : throw OutOfReach();

    private static void GuardCount(int count)
    {
        if (count > RecordLimits.TracePoints)
        {
            throw new InvalidEntryException("trace", $"At most {RecordLimits.TracePoints} points.");
        }
    }

    private static InvalidEntryException OutOfReach() => new("trace", "A point must be within 300 mm of the centre in each direction.");
}

/// <summary>Where shapes in millimetres are made.</summary>
internal static class ShapeFactory
{
    /// <summary>The one factory: double precision, robust overlay.</summary>
    internal static readonly GeometryFactory Millimetres = new(new PrecisionModel());
}
