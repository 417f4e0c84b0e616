using NetTopologySuite.Geometries;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Shape;

/// <summary>Measures of a wound.</summary>
/// <param name="AreaMm2">Area, mm².</param>
/// <param name="PerimeterMm">Perimeter, mm.</param>
/// <param name="LengthMm">Length: the largest Feret diameter, mm.</param>
/// <param name="WidthMm">Width: the largest extent at right angles to that length, mm.</param>
/// <param name="Plane">The deepest plane reached, where any was noted.</param>
public sealed record DefectSize(double AreaMm2, double PerimeterMm, double LengthMm, double WidthMm, AnatomicalPlane? Plane)
{
    /// <summary>Measures a shape in millimetres.</summary>
    public static DefectSize Of(Geometry shape, AnatomicalPlane? plane)
    {
        var hull = shape.ConvexHull().Coordinates;
        var (from, to) = FarthestPair(hull);
        var length = from.Distance(to);
        var (ux, uy) = ((to.X - from.X) / length, (to.Y - from.Y) / length);
        var across = hull.Select(point => (point.Y * ux) - (point.X * uy)).ToList();
        return new DefectSize(shape.Area, shape.Length, length, across.Max() - across.Min(), plane);
    }

    /// <summary>How many times the lesion's area before surgery the wound has.</summary>
    /// <param name="lesionAreaMm2">The lesion's area, mm².</param>
    public double GrowthFrom(double lesionAreaMm2) => AreaMm2 / lesionAreaMm2;

    // Around a convex ring, the corner farthest from an edge only ever moves on (rotating calipers), so one turn finds every pair of
    // opposite corners, and the farthest pair is one of them. Its neighbour is looked at too, for edges that are parallel.
    private static (Coordinate From, Coordinate To) FarthestPair(Coordinate[] ring)
    {
        var corners = ring.Length - 1;
        var (best, from, to, far) = (-1.0, ring[0], ring[0], 1);
        for (var i = 0; i < corners; i++)
        {
            while (DistanceFromEdge(i, far + 1) > DistanceFromEdge(i, far))
            {
                far = (far + 1) % corners;
            }

            Consider(ring[i], ring[far]);
            Consider(ring[i + 1], ring[far]);
            Consider(ring[i], ring[(far + 1) % corners]);
        }

        return (from, to);

        // Times the length of the edge, which both corners that are compared have in common.
        double DistanceFromEdge(int edge, int corner)
        {
            var (a, b, c) = (ring[edge], ring[edge + 1], ring[corner % corners]);
            return Math.Abs(((b.X - a.X) * (c.Y - a.Y)) - ((b.Y - a.Y) * (c.X - a.X)));
        }

        void Consider(Coordinate one, Coordinate other)
        {
            var (dx, dy) = (other.X - one.X, other.Y - one.Y);
            if ((dx * dx) + (dy * dy) is var square && square > best)
            {
                (best, from, to) = (square, one, other);
            }
        }
    }
}
