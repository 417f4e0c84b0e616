using StagedMargins.Core.Tests.ClockFace;

namespace StagedMargins.Core.Tests.Shape;

/// <summary>
/// A star-shaped wound as its distance from the centre in many directions, grown by the definition of a rim alone: a place is taken
/// where it lies in the wedge and no farther from the present wound than the rim is wide. Both parts keep a wound star-shaped, so
/// the distances say everything. It shares nothing with the geometry library that the program uses.
/// </summary>
internal sealed class RadialOracle
{
    private const int InMinute = 2;
    private const int Count = CellCircle.Cells * InMinute;
    private const double Step = 2 * Math.PI / Count;
    private const double SpacingMm = 0.03;

    private readonly (double X, double Y)[] corners;
    private readonly HashSet<int> sides = [];
    private double[] reach;

    /// <summary>Starts from the distance of the edge in any direction, in radians clockwise from 12 o'clock.</summary>
    /// <param name="edge">Distance in mm for a direction.</param>
    /// <param name="corners">Directions of sharp corners, which would fall between the directions looked at.</param>
    public RadialOracle(Func<double, double> edge, params IEnumerable<double> corners)
    {
        reach = [.. Enumerable.Range(0, Count).Select(i => edge((i + 0.5) * Step))];
        this.corners = [.. corners.Select(corner => At(corner, edge(corner)))];
    }

    public double Area => reach.Sum(r => r * r / 2 * Step);

    /// <summary>Takes a layer: every rim by its first clock minute, its length and its width, all from the wound before it.</summary>
    public void Take(IReadOnlyList<(int From, int Minutes, double Width)> rims)
    {
        var boundary = Boundary();
        double[] grown = [.. reach];
        foreach (var (from, minutes, width) in rims)
        {
            sides.UnionWith(minutes == 720 ? [] : [from * InMinute % Count, (from + minutes) * InMinute % Count]);
            for (var i = from * InMinute; i < (from + minutes) * InMinute; i++)
            {
                grown[i % Count] = Math.Max(grown[i % Count], Reach(boundary, (i + 0.5) * Step, width));
            }
        }

        reach = grown;
    }

    // How far a ray goes before it is more than a width away from every point of the boundary.
    private static double Reach(List<(double X, double Y)> boundary, double direction, double width)
    {
        var (x, y) = Math.SinCos(direction);
        var farthest = 0.0;
        foreach (var point in boundary)
        {
            var (along, across) = ((point.X * x) + (point.Y * y), (point.X * y) - (point.Y * x));
            var half = (width * width) - (across * across);
            if (half >= 0)
            {
                farthest = Math.Max(farthest, along + Math.Sqrt(half));
            }
        }

        return farthest;
    }

    // The edge from direction to direction, and a straight side toward the centre wherever a rim has begun or ended.
    private List<(double X, double Y)> Boundary()
    {
        var points = new List<(double X, double Y)>(corners);
        for (var i = 0; i < Count; i++)
        {
            var next = (i + 1) % Count;
            var (from, to) = (At((i + 0.5) * Step, reach[i]), At((i + 1.5) * Step, reach[next]));
            if (sides.Contains(next))
            {
                AddLine(points, from, At((i + 1) * Step, reach[i]));
                AddLine(points, At((i + 1) * Step, reach[i]), At((i + 1) * Step, reach[next]));
                AddLine(points, At((i + 1) * Step, reach[next]), to);
            }
            else
            {
                AddLine(points, from, to);
            }
        }

        return points;
    }

    private static void AddLine(List<(double X, double Y)> points, (double X, double Y) from, (double X, double Y) to)
    {
        var (dx, dy) = (to.X - from.X, to.Y - from.Y);
        var parts = 1 + (int)(Math.Sqrt((dx * dx) + (dy * dy)) / SpacingMm);
        for (var part = 0; part < parts; part++)
        {
            points.Add((from.X + (dx * part / parts), from.Y + (dy * part / parts)));
        }
    }

    private static (double X, double Y) At(double direction, double distance)
    {
        var (sin, cos) = Math.SinCos(direction);
        return (distance * sin, distance * cos);
    }
}
