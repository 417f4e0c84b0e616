using StagedMargins.Drawing.Primitives;

namespace StagedMargins.Drawing.Face;

/// <summary>Fills of lines or dots, as shapes of their own, so that every painter draws the same.</summary>
internal static class Hatching
{
    /// <summary>Parallel lines inside contours (even-odd).</summary>
    /// <param name="contours">Closed contours.</param>
    /// <param name="degrees">How the lines lean, clockwise from upright.</param>
    /// <param name="step">Distance between lines, scene units.</param>
    internal static IReadOnlyList<Contour> Lines(IReadOnlyList<Contour> contours, double degrees, double step) =>
    [
        .. Spans(contours, degrees, step).Select(span => Contour.Line(span.From, span.To)),
    ];

    /// <summary>Dots inside contours (even-odd), on a grid that stands on its corner.</summary>
    /// <param name="contours">Closed contours.</param>
    /// <param name="step">Distance between dots, scene units.</param>
    internal static IReadOnlyList<Contour> Dots(IReadOnlyList<Contour> contours, double step)
    {
        var dots = new List<Contour>();
        foreach (var (from, to) in Spans(contours, 45, step))
        {
            // How far along its line a point lies, counted from where all lines of this lean have their zero.
            var (start, end) = ((from.X - from.Y) / Math.Sqrt(2), (to.X - to.Y) / Math.Sqrt(2));
            var (low, high) = (Math.Min(start, end), Math.Max(start, end));
            for (var at = Math.Ceiling(low / step) * step; at <= high; at += step)
            {
                var share = high == low ? 0 : (at - start) / (end - start);
                dots.Add(Contour.Dot(new ScenePoint(from.X + (share * (to.X - from.X)), from.Y + (share * (to.Y - from.Y)))));
            }
        }

        return dots;
    }

    private static IEnumerable<(ScenePoint From, ScenePoint To)> Spans(IReadOnlyList<Contour> contours, double degrees, double step)
    {
        var (sin, cos) = Math.SinCos(degrees * Math.PI / 180);

        // Turned so that the lines run along "along" at whole steps of "across".
        (double Across, double Along) Turn(ScenePoint p) => ((p.X * cos) + (p.Y * sin), (p.X * sin) - (p.Y * cos));
        ScenePoint Back(double across, double along) => new((across * cos) + (along * sin), (across * sin) - (along * cos));

        var crossings = new SortedDictionary<int, List<double>>();
        foreach (var contour in contours)
        {
            var turned = contour.Points.Select(Turn).ToList();
            for (var i = 0; i < turned.Count; i++)
            {
                Cross(turned[i], turned[(i + 1) % turned.Count], step, crossings);
            }
        }

        foreach (var (line, at) in crossings)
        {
            at.Sort();
            for (var i = 0; i + 1 < at.Count; i += 2)
            {
                yield return (Back(line * step, at[i]), Back(line * step, at[i + 1]));
            }
        }
    }

    // Half open, so that a corner on a line counts once.
    private static void Cross(
        (double Across, double Along) a, (double Across, double Along) b, double step, SortedDictionary<int, List<double>> crossings)
    {
        var (low, high) = a.Across < b.Across ? (a, b) : (b, a);
        for (var line = (int)Math.Ceiling(low.Across / step); line * step < high.Across; line++)
        {
            var share = ((line * step) - low.Across) / (high.Across - low.Across);
            if (!crossings.TryGetValue(line, out var at))
            {
                crossings[line] = at = [];
            }

            at.Add(low.Along + (share * (high.Along - low.Along)));
        }
    }
}
