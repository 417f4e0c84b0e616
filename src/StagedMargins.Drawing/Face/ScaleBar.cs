using System.Globalization;
using StagedMargins.Drawing.Lettering;
using StagedMargins.Drawing.Primitives;

namespace StagedMargins.Drawing.Face;

/// <summary>The scale bar: a round length in mm.</summary>
internal static class ScaleBar
{
    /// <summary>The longest length of 1, 2 or 5 times a power of ten that is not longer than the bar may be, mm.</summary>
    /// <param name="longestMm">The longest the bar may be, mm, above 0.</param>
    internal static double RoundLengthMm(double longestMm)
    {
        var power = Math.Pow(10, Math.Floor(Math.Log10(longestMm)));
        return (longestMm / power) switch
        {
            >= 5 => 5 * power,
            >= 2 => 2 * power,
            _ => power,
        };
    }

    /// <summary>Draws the bar with its length beside it.</summary>
    internal static SceneGroup Draw(FaceFrame frame, double left, double middleY)
    {
        var m = frame.Measures;
        var mm = RoundLengthMm(frame.ToMm(m.BarLongest));
        var right = left + (mm * frame.UnitsPerMm);
        var half = m.Small * 0.45;
        var bar = new ScenePath(
            [
                Contour.Line(new(left, middleY), new(right, middleY)),
                Contour.Line(new(left, middleY - half), new(left, middleY + half)),
                Contour.Line(new(right, middleY - half), new(right, middleY + half)),
            ],
            null,
            new Pen(Palette.Text, m.Line));
        var style = TextStyle.Bold(m.Body, Palette.Text);
        var words = string.Create(CultureInfo.InvariantCulture, $"{mm:0.###} mm");
        var text = style.Write(words, new ScenePoint(right + (m.Gap * 0.7), middleY + style.ToBaseline));
        return new SceneGroup(SceneRole.ScaleBar, words, [bar, text]);
    }
}
