namespace StagedMargins.Core.Tests.Shape;

/// <summary>
/// A rim on a trace with deep dents, of which one reaches around a corner: its area counted on a grid, each point by the definition
/// (inside the trace; or in the wedge and no farther from the trace than the rim is wide).
/// </summary>
public sealed class DentedTraceTests
{
    private const double GridMm = 0.05;

    private static readonly (decimal X, decimal Y)[] Trace =
        [(-6, -6), (6, -6), (6, 7), (2, 7), (2, 3), (4, 3), (4, 1), (-1, 1), (-1, 8), (-3, 8), (-3, 2), (-6, 2)];

    private static readonly (double X, double Y)[] Corners = [.. Trace.Select(corner => ((double)corner.X, (double)corner.Y))];

    [Theory]
    [InlineData(0, 720, 1.0)]
    [InlineData(640, 200, 1.5)]
    [InlineData(0, 90, 0.8)]
    [InlineData(300, 360, 2.5)]
    [InlineData(30, 60, 4.0)]
    public void The_area_is_what_a_grid_counts(int from, int minutes, double width)
    {
        var size = Wound.Of(Wound.Trace(Trace), [Wound.Rim(from, minutes, (decimal)width)]).Size;
        size.AreaMm2.ShouldBeWithin(CountedArea(from, minutes, width), 0.002);
    }

    [Fact]
    public void The_grid_counts_the_trace_itself() => CountedArea(0, 1, 0).ShouldBeWithin(Wound.Of(Wound.Trace(Trace)).Size.AreaMm2, 0.002);

    private static double CountedArea(int from, int minutes, double width)
    {
        var reach = 8.0 + width;
        var counted = 0;
        for (var x = -reach + (GridMm / 2); x < reach; x += GridMm)
        {
            for (var y = -reach + (GridMm / 2); y < reach; y += GridMm)
            {
                if (IsInside(x, y) || (IsInWedge(x, y, from, minutes) && Distance(x, y) <= width))
                {
                    counted++;
                }
            }
        }

        return counted * GridMm * GridMm;
    }

    private static bool IsInWedge(double x, double y, int from, int minutes)
    {
        var position = Math.Atan2(x, y) * 360 / Math.PI;
        return ((position - from + 1440) % 720) < minutes;
    }

    // A ray from an inside point crosses the edge an odd number of times.
    private static bool IsInside(double x, double y)
    {
        var inside = false;
        for (var i = 0; i < Corners.Length; i++)
        {
            var (p, q) = (Corners[i], Corners[(i + 1) % Corners.Length]);
            if ((p.Y > y) != (q.Y > y) && x < p.X + ((y - p.Y) / (q.Y - p.Y) * (q.X - p.X)))
            {
                inside = !inside;
            }
        }

        return inside;
    }

    private static double Distance(double x, double y)
    {
        var least = double.MaxValue;
        for (var i = 0; i < Corners.Length; i++)
        {
            var (p, q) = (Corners[i], Corners[(i + 1) % Corners.Length]);
            var (dx, dy) = (q.X - p.X, q.Y - p.Y);
            var share = Math.Clamp((((x - p.X) * dx) + ((y - p.Y) * dy)) / ((dx * dx) + (dy * dy)), 0, 1);
            var (ox, oy) = (x - p.X - (share * dx), y - p.Y - (share * dy));
            least = Math.Min(least, (ox * ox) + (oy * oy));
        }

        return Math.Sqrt(least);
    }
}
