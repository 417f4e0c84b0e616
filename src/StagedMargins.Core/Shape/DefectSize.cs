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

    // The hull of a wound has some hundreds of corners (a traced one at most 5,000), so every pair can be looked at.
    private static (Coordinate From, Coordinate To) FarthestPair(Coordinate[] hull)
    {
        var (best, from, to) = (-1.0, hull[0], hull[0]);
        for (var i = 0; i < hull.Length; i++)
        {
            for (var j = i + 1; j < hull.Length; j++)
            {
                var (dx, dy) = (hull[j].X - hull[i].X, hull[j].Y - hull[i].Y);
                var square = (dx * dx) + (dy * dy);
                if (square > best)
                {
                    (best, from, to) = (square, hull[i], hull[j]);
                }
            }
        }

        return (from, to);
    }
}
