using StagedMargins.Drawing.Lettering;
using StagedMargins.Drawing.Primitives;

namespace StagedMargins.Drawing.Face;

/// <summary>A label that wants to stand beside the clock ring.</summary>
/// <param name="Name">What it says, in one line.</param>
/// <param name="First">Its first line: numbers.</param>
/// <param name="More">What follows.</param>
/// <param name="Colour">Colour of its first line and its leader.</param>
/// <param name="Degrees">Where it points to, clockwise from 12 o'clock.</param>
/// <param name="From">The place that it explains.</param>
/// <param name="Rank">Smaller is more important; the least important go where there is no space.</param>
internal sealed record SideLabel(string Name, string First, string More, SceneColour Colour, double Degrees, ScenePoint From, int Rank);

/// <summary>
/// Labels left and right of the ring, in the order of the clock, so that no leader crosses another. Where a leader would run
/// through a label or the ring, the least important label of that side goes; the key has its numbers.
/// </summary>
internal sealed class SideLabels(FaceFrame frame, OccupiedAreas occupied)
{
    private const double Between = 12;
    private const double FromRing = 22;

    private sealed record Worded(SideLabel Label, Paragraph First, Paragraph More, double Height);

    private sealed record Placed(SideLabel Label, IReadOnlyList<ScenePoint> Leader, IReadOnlyList<SceneText> Texts);

    private Measures M => frame.Measures;

    /// <summary>Places and draws the labels.</summary>
    internal IReadOnlyList<SceneGroup> Draw(IReadOnlyList<SideLabel> labels) => !M.IsWide
        ? []
        : [.. OneSide(labels.Where(label => frame.Seen(label.Degrees) < 180), true), .. OneSide(labels.Where(label => frame.Seen(label.Degrees) >= 180), false)];

    private List<SceneGroup> OneSide(IEnumerable<SideLabel> labels, bool right)
    {
        var kept = Stackable(labels.OrderBy(label => label.Rank).ThenBy(label => label.Degrees).Select(Set));
        var placed = LayOut(kept, right);
        while (!IsClean(placed))
        {
            kept.RemoveAt(kept.Count - 1);
            placed = LayOut(kept, right);
        }

        return [.. placed.Select(Draw)];
    }

    // More labels than can stand below one another are never clean, so those are not tried: one by one, hundreds of marks took minutes.
    private List<Worded> Stackable(IEnumerable<Worded> byRank)
    {
        var (kept, space) = (new List<Worded>(), (2 * M.RingOuter) + (2 * M.Gap) + Between);
        foreach (var label in byRank)
        {
            space -= label.Height + Between;
            if (space < 0)
            {
                break;
            }

            kept.Add(label);
        }

        return kept;
    }

    private List<Placed> LayOut(List<Worded> labels, bool right)
    {
        double FromTwelve(Worded label) => right ? frame.Seen(label.Label.Degrees) : 360 - frame.Seen(label.Label.Degrees);
        double Degrees(int slot) => frame.Seen(right ? LabelSlots.DegreesOf(slot) : 360 - LabelSlots.DegreesOf(slot));

        var ordered = labels.OrderBy(FromTwelve).ThenBy(label => label.Label.Rank).ToList();
        var slots = LabelSlots.For([.. ordered.Select(FromTwelve)]);
        var wanted = ordered.Select((label, i) => (frame.At(Degrees(slots[i]), M.RingOuter).Y - (M.Body / 2), label.Height));
        var tops = LabelStack.Tops([.. wanted], Between, frame.Middle.Y - M.RingOuter, frame.Middle.Y + M.RingOuter + M.Gap);
        return [.. ordered.Select((label, i) => Place(label, Degrees(slots[i]), tops[i], right))];
    }

    private Worded Set(SideLabel label)
    {
        var first = Paragraph.Of(label.First, TextStyle.Bold(M.Body * 0.95, label.Colour), M.LabelWidth, 2);
        var more = Paragraph.Of(label.More, TextStyle.Regular(M.Small, Palette.Muted), M.LabelWidth, 3);
        return new Worded(label, first, more, first.Height + (M.Small * 0.35) + more.Height);
    }

    private Placed Place(Worded text, double degrees, double top, bool right)
    {
        var x = frame.Middle.X + ((right ? 1 : -1) * DistanceBeside(top, top + text.Height));
        var align = right ? TextAlign.Start : TextAlign.End;
        return new Placed(
            text.Label,
            [
                text.Label.From,
                frame.At(degrees, M.RingInner),
                frame.At(degrees, M.RingOuter + 6),
                new(x - (right ? 7 : -7), top + (M.Body * 0.5)),
            ],
            [.. text.First.At(x, top, align), .. text.More.At(x, top + text.First.Height + (M.Small * 0.35), align)]);
    }

    // As near to the ring as the label's height allows, but never over the words at 12 o'clock.
    private double DistanceBeside(double top, double bottom)
    {
        var nearest = top <= frame.Middle.Y && frame.Middle.Y <= bottom
            ? 0
            : Math.Min(Math.Abs(top - frame.Middle.Y), Math.Abs(bottom - frame.Middle.Y));
        var radius = M.RingOuter + FromRing;
        return Math.Max(Math.Sqrt(Math.Max(0, (radius * radius) - (nearest * nearest))), M.RingOuter * 0.5);
    }

    private bool IsClean(List<Placed> placed)
    {
        var bottom = frame.Middle.Y + M.RingOuter + (M.Gap * 2);
        return placed.TrueForAll(one => one.Texts[^1].Box.Bottom <= bottom && IsFree(one, placed));
    }

    // The leader's way outside the ring.
    private bool IsFree(Placed one, List<Placed> placed)
    {
        const int Steps = 40;
        var (from, to) = (one.Leader[^2], one.Leader[^1]);
        for (var i = 0; i <= Steps; i++)
        {
            var share = i / (double)Steps;
            var (x, y) = (from.X + (share * (to.X - from.X)), from.Y + (share * (to.Y - from.Y)));
            var at = new SceneBox(x, y, x, y);
            var distance = Math.Sqrt(Math.Pow(x - frame.Middle.X, 2) + Math.Pow(y - frame.Middle.Y, 2));
            if (distance < M.RingOuter || placed.Exists(other => other.Texts.Any(text => text.Box.Grown(1).Contains(at))))
            {
                return false;
            }
        }

        return true;
    }

    private SceneGroup Draw(Placed one)
    {
        var line = new Contour(one.Leader, false);
        occupied.Take(line);
        return new SceneGroup(SceneRole.SideLabel, one.Label.Name,
        [
            ScenePath.Stroked(line, new Pen(one.Label.Colour, M.Line * 0.6)),
            ScenePath.Filled(Contour.Circle(one.Label.From, M.Line * 1.6), one.Label.Colour, new Pen(Palette.Paper, M.Line * 0.5)),
            .. one.Texts,
        ]);
    }
}
