using StagedMargins.Core.ClockFace;

namespace StagedMargins.Drawing.Face;

/// <summary>
/// Chooses in which direction each label is pointed at: inside its own arc, away from the other labels, from the numerals and
/// from what is already drawn. What has the least choice chooses first.
/// </summary>
internal sealed class Directions(IReadOnlyList<double> drawn)
{
    private const double FarEnough = 30;
    private const double NearNumeral = 5;
    private const double NearDrawn = 4;
    private readonly List<double> chosen = [];

    /// <summary>A direction for every arc.</summary>
    /// <param name="arcs">The arcs; null where any direction serves.</param>
    /// <returns>Degrees clockwise from 12 o'clock, one for each arc, in their order.</returns>
    internal IReadOnlyList<double> For(IReadOnlyList<ClockArc?> arcs)
    {
        var result = new double[arcs.Count];
        foreach (var (arc, i) in arcs.Select((arc, i) => (arc ?? ClockArc.Whole, i)).OrderBy(one => one.Item1.Minutes))
        {
            result[i] = Shares(arc).MaxBy(share => Score(arc, share)) is var best ? FaceFrame.Degrees(arc, best) : 0;
            chosen.Add(result[i]);
        }

        return result;
    }

    // From the middle outward, so that the middle wins where nothing else speaks.
    private static IEnumerable<double> Shares(ClockArc arc)
    {
        var steps = arc.IsWhole ? 45 : 8;
        var reach = arc.IsWhole ? 0.5 : 0.38;
        return Enumerable.Range(0, (2 * steps) + 1).Select(i => 0.5 + ((i % 2 == 0 ? 1 : -1) * ((i + 1) / 2) * reach / steps));
    }

    private double Score(ClockArc arc, double share)
    {
        var degrees = FaceFrame.Degrees(arc, share);
        var score = chosen.Select(other => Math.Min(Apart(degrees, other), FarEnough)).DefaultIfEmpty(FarEnough).Min();

        // The middle of an arc says most clearly which arc is meant; of a circle, its sides are nearest to where labels stand.
        score -= arc.IsWhole ? Math.Abs(Math.Cos(degrees * Math.PI / 180)) * 5 : Math.Abs(share - 0.5) * 4;
        score -= Apart(degrees % 30, 0) is var past && Math.Min(past, 30 - past) < NearNumeral ? 3 : 0;
        return score - (drawn.Any(line => Apart(degrees, line) < NearDrawn) ? 6 : 0);
    }

    private static double Apart(double a, double b)
    {
        var apart = Math.Abs(a - b) % 360;
        return Math.Min(apart, 360 - apart);
    }
}
