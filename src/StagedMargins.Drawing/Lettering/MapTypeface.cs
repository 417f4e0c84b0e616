using System.Reflection;
using SkiaSharp;
using StagedMargins.Drawing.Primitives;

namespace StagedMargins.Drawing.Lettering;

/// <summary>The one typeface of the maps, from the assembly itself: a machine without fonts draws the same letters.</summary>
internal static class MapTypeface
{
    private static readonly SKTypeface Regular = Load("AtkinsonHyperlegible-Regular.ttf");
    private static readonly SKTypeface Bold = Load("AtkinsonHyperlegible-Bold.ttf");

    /// <summary>The typeface of a weight.</summary>
    internal static SKTypeface For(TextWeight weight) => weight == TextWeight.Bold ? Bold : Regular;

    /// <summary>A font whose letters keep their proportions at every size. The caller disposes of it.</summary>
    internal static SKFont FontOf(TextWeight weight, double size) => new(For(weight), (float)size)
    {
        Hinting = SKFontHinting.None,
        LinearMetrics = true,
        Subpixel = true,
        Edging = SKFontEdging.Antialias,
    };

    /// <summary>Width of a text in scene units.</summary>
    internal static double Measure(string text, double size, TextWeight weight)
    {
        using var font = FontOf(weight, size);
        return font.MeasureText(text);
    }

    /// <summary>True where the typeface has every letter of a text.</summary>
    internal static bool CanWrite(string text)
    {
        using var font = FontOf(TextWeight.Regular, 12);
        return font.ContainsGlyphs(text);
    }

    private static SKTypeface Load(string name)
    {
        using var stream = Assembly.GetExecutingAssembly().GetManifestResourceStream(name)
            ?? throw new InvalidOperationException($"The assembly was built without its typeface {name}.");
        return SKTypeface.FromStream(stream)
            ?? throw new InvalidOperationException($"The typeface {name} can't be read.");
    }
}
