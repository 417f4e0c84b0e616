using System.Globalization;
using StagedMargins.Drawing.Lettering;
using StagedMargins.Drawing.Primitives;

namespace StagedMargins.Drawing.Face;

/// <summary>The clock ring: numerals 1 to 12 clockwise, ticks at every hour and half hour.</summary>
internal static class DialPart
{
    /// <summary>Draws the ring.</summary>
    internal static IEnumerable<SceneGroup> Draw(FaceFrame frame)
    {
        var m = frame.Measures;
        var edge = new Pen(Palette.Hairline, m.Line);
        var ring = new ScenePath([Contour.Circle(frame.Middle, m.RingOuter), Contour.Circle(frame.Middle, m.RingInner)], Palette.Dial, edge);
        var ticks = Enumerable.Range(0, 24).Select(half => Tick(frame, half));
        yield return new SceneGroup(SceneRole.ClockFace, "Clock face", [ring, new ScenePath([.. ticks], null, new Pen(Palette.Muted, m.Line))]);

        var style = TextStyle.Bold(m.Numeral, Palette.Text);
        for (var hour = 1; hour <= 12; hour++)
        {
            var text = hour.ToString(CultureInfo.InvariantCulture);
            var numeral = style.WriteAround(text, frame.At(hour * 30, (m.RingInner + m.RingOuter) / 2));
            yield return new SceneGroup(SceneRole.Numeral, text, [numeral]);
        }
    }

    private static Contour Tick(FaceFrame frame, int half)
    {
        var m = frame.Measures;
        var length = m.Numeral * (half % 2 == 0 ? 0.32 : 0.2);
        return Contour.Line(frame.At(half * 15, m.RingInner), frame.At(half * 15, m.RingInner - length));
    }
}
