using StagedMargins.Drawing.Primitives;

namespace StagedMargins.Drawing.Lettering;

/// <summary>Size, weight and colour of a text.</summary>
/// <param name="Size">Em in scene units.</param>
/// <param name="Weight">Weight.</param>
/// <param name="Colour">Colour.</param>
internal sealed record TextStyle(double Size, TextWeight Weight, SceneColour Colour)
{
    // Heights of this typeface's letters above and below the baseline, in ems, accents included.
    private const double Above = 0.78;
    private const double Below = 0.22;

    /// <summary>From one baseline to the next.</summary>
    internal double LineHeight => Size * 1.28;

    /// <summary>From the top of a line's box to its baseline.</summary>
    internal double Ascent => Size * Above;

    /// <summary>Half the height of a figure: how far below a middle line its baseline lies.</summary>
    internal double ToBaseline => Size * 0.335;

    /// <summary>Regular text.</summary>
    internal static TextStyle Regular(double size, SceneColour colour) => new(size, TextWeight.Regular, colour);

    /// <summary>Bold text.</summary>
    internal static TextStyle Bold(double size, SceneColour colour) => new(size, TextWeight.Bold, colour);

    /// <summary>Width of a text, scene units.</summary>
    internal double WidthOf(string text) => MapTypeface.Measure(text, Size, Weight);

    /// <summary>A line of text with its baseline at a point.</summary>
    internal SceneText Write(string text, ScenePoint anchor, TextAlign align = TextAlign.Start)
    {
        var width = WidthOf(text);
        var left = align switch
        {
            TextAlign.Start => anchor.X,
            TextAlign.Middle => anchor.X - (width / 2),
            _ => anchor.X - width,
        };
        var box = new SceneBox(left, anchor.Y - (Size * Above), left + width, anchor.Y + (Size * Below));
        return new SceneText(text, anchor, align, Size, Weight, Colour, box);
    }

    /// <summary>A line of text whose figures have their middle at a point.</summary>
    internal SceneText WriteAround(string text, ScenePoint middle) =>
        Write(text, middle with { Y = middle.Y + ToBaseline }, TextAlign.Middle);
}
