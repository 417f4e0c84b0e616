using StagedMargins.Drawing.Lettering;
using StagedMargins.Drawing.Primitives;

namespace StagedMargins.Drawing.Face;

/// <summary>A label that wants to stand beside the clock ring.</summary>
/// <param name="Name">What it says, in one line.</param>
/// <param name="Lines">Its lines: numbers first.</param>
/// <param name="Colour">Colour of its first line and its leader.</param>
/// <param name="Degrees">Where it points to, clockwise from 12 o'clock.</param>
/// <param name="From">The place that it explains.</param>
/// <param name="Rank">Smaller is more important; the least important go where there is no room.</param>
internal sealed record SideLabel(string Name, IReadOnlyList<string> Lines, SceneColour Colour, double Degrees, ScenePoint From, int Rank);

/// <summary>
/// Labels left and right of the ring. Leaders cross the ring between the numerals, each in a slot of its own and in the order of
/// the clock, so that none crosses another or a numeral.
/// </summary>
internal sealed class SideLabels(FaceFrame frame, Room room)
{
    private const double SlotDegrees = 3;
    private const int SlotsInHour = 7;
    private const double FirstSlotInHour = 6;
    private const double Between = 12;
    private const double FromRing = 22;

    private Measures M => frame.Measures;

    private TextStyle First(SideLabel label) => TextStyle.Bold(M.Body * 0.95, label.Colour);

    private TextStyle Rest => TextStyle.Regular(M.Small, Palette.Muted);

    /// <summary>Places and draws the labels.</summary>
    internal IReadOnlyList<SceneGroup> Draw(IReadOnlyList<SideLabel> labels) => M.LabelWidth == 0
        ? []
        : [.. OneSide([.. labels.Where(IsRight)], true), .. OneSide([.. labels.Where(label => !IsRight(label))], false)];

    private static bool IsRight(SideLabel label) => label.Degrees < 180;

    private List<SceneGroup> OneSide(List<SideLabel> labels, bool right)
    {
        var kept = Fitting(labels)
            .OrderBy(label => right ? label.Degrees : 360 - label.Degrees)
            .ThenBy(label => label.Rank)
            .Select(label => (Label: label, Text: Set(label)))
            .ToList();
        var slots = Slots([.. kept.Select(one => right ? one.Label.Degrees : 360 - one.Label.Degrees)]);
        var tops = Tops([.. kept.Select((one, i) => (SlotPoint(slots[i], right).Y - (M.Body / 2), Height(one.Text)))]);
        return [.. kept.Select((one, i) => Draw(one.Label, one.Text, slots[i], tops[i], right))];
    }

    private List<SideLabel> Fitting(List<SideLabel> labels)
    {
        var room = 2 * M.RingOuter;
        var kept = new List<SideLabel>();
        foreach (var label in labels.OrderBy(label => label.Rank).ThenBy(label => label.Degrees))
        {
            room -= Height(Set(label)) + Between;
            if (room < 0)
            {
                break;
            }

            kept.Add(label);
        }

        return kept;
    }

    private (Paragraph First, Paragraph More) Set(SideLabel label) => (
        Paragraph.Of(label.Lines[0], First(label), M.LabelWidth, 2),
        Paragraph.Of(string.Join(' ', label.Lines.Skip(1)), Rest, M.LabelWidth, 3));

    private double Height((Paragraph First, Paragraph More) text) =>
        text.First.Height + (text.More.Lines.Count == 0 ? 0 : (M.Small * 0.35) + text.More.Height);

    // Slots are counted from 12 o'clock down either side: 7 to an hour, none under a numeral.
    private static List<int> Slots(IReadOnlyList<double> degrees)
    {
        const int Last = (6 * SlotsInHour) - 1;
        var slots = degrees.Select(NearestSlot).ToList();
        for (var i = 1; i < slots.Count; i++)
        {
            slots[i] = Math.Max(slots[i], slots[i - 1] + 1);
        }

        for (var i = slots.Count - 1; i >= 0; i--)
        {
            slots[i] = Math.Min(slots[i], i == slots.Count - 1 ? Last : slots[i + 1] - 1);
        }

        return slots;
    }

    private static int NearestSlot(double degrees)
    {
        var hour = Math.Clamp((int)(degrees / 30), 0, 5);
        var inHour = (int)Math.Round((degrees - (hour * 30) - FirstSlotInHour) / SlotDegrees, MidpointRounding.AwayFromZero);
        return (hour * SlotsInHour) + Math.Clamp(inHour, 0, SlotsInHour - 1);
    }

    private static double SlotDegreesOf(int slot, bool right)
    {
        var degrees = (slot / SlotsInHour * 30) + FirstSlotInHour + (slot % SlotsInHour * SlotDegrees);
        return right ? degrees : 360 - degrees;
    }

    private ScenePoint SlotPoint(int slot, bool right) => frame.At(SlotDegreesOf(slot, right), M.RingOuter + 6);

    // Each at the height of its slot; where labels would touch, they form a block about their common middle.
    private List<double> Tops(List<(double Wanted, double Height)> all)
    {
        var offsets = new List<double> { 0 };
        foreach (var (_, height) in all)
        {
            offsets.Add(offsets[^1] + height + Between);
        }

        var blocks = new List<(double Sum, int Count)>();
        for (var i = 0; i < all.Count; i++)
        {
            blocks.Add((all[i].Wanted - offsets[i], 1));
            while (blocks.Count > 1 && blocks[^2].Sum / blocks[^2].Count > blocks[^1].Sum / blocks[^1].Count)
            {
                blocks[^2] = (blocks[^2].Sum + blocks[^1].Sum, blocks[^2].Count + blocks[^1].Count);
                blocks.RemoveAt(blocks.Count - 1);
            }
        }

        // Every top is a block's level plus its own offset, so the ring's height bounds the levels alike.
        var (highest, lowest) = (frame.Middle.Y - M.RingOuter, frame.Middle.Y + M.RingOuter - offsets[^1] + Between);
        var levels = blocks.SelectMany(block => Enumerable.Repeat(Math.Clamp(block.Sum / block.Count, highest, Math.Max(highest, lowest)), block.Count));
        return [.. levels.Select((level, i) => level + offsets[i])];
    }

    private SceneGroup Draw(SideLabel label, (Paragraph First, Paragraph More) text, int slot, double top, bool right)
    {
        var x = frame.Middle.X + ((right ? 1 : -1) * DistanceBeside(top, top + Height(text)));
        var align = right ? TextAlign.Start : TextAlign.End;
        var degrees = SlotDegreesOf(slot, right);
        ScenePoint[] leader =
        [
            label.From,
            frame.At(degrees, M.RingInner),
            SlotPoint(slot, right),
            new(x - (right ? 7 : -7), top + (M.Body * 0.5)),
        ];
        var line = new Contour(leader, false);
        room.Take(line);
        return new SceneGroup(SceneRole.SideLabel, label.Name,
        [
            ScenePath.Stroked(line, new Pen(label.Colour, M.Line * 0.6)),
            ScenePath.Filled(Contour.Circle(label.From, M.Line * 1.6), label.Colour, new Pen(Palette.Paper, M.Line * 0.5)),
            .. text.First.At(x, top, align),
            .. text.More.At(x, top + text.First.Height + (M.Small * 0.35), align),
        ]);
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
}
