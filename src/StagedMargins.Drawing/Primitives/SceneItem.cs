namespace StagedMargins.Drawing.Primitives;

/// <summary>An opaque colour, sRGB.</summary>
/// <param name="Red">0 to 255.</param>
/// <param name="Green">0 to 255.</param>
/// <param name="Blue">0 to 255.</param>
public readonly record struct SceneColour(byte Red, byte Green, byte Blue)
{
    /// <summary>The form <c>#rrggbb</c>.</summary>
    public string Hex => $"#{Red:x2}{Green:x2}{Blue:x2}";

    /// <summary>The colour of a number 0xRRGGBB.</summary>
    public static SceneColour FromRgb(int rgb) => new((byte)(rgb >> 16), (byte)(rgb >> 8), (byte)rgb);
}

/// <summary>How a line is drawn. Ends and corners are round.</summary>
/// <param name="Colour">Its colour.</param>
/// <param name="Width">Its width in scene units.</param>
/// <param name="Dash">Lengths of dash and gap in scene units; null for a solid line.</param>
public sealed record Pen(SceneColour Colour, double Width, (double On, double Off)? Dash = null);

/// <summary>The weight of a text.</summary>
public enum TextWeight
{
    /// <summary>Regular.</summary>
    Regular,

    /// <summary>Bold.</summary>
    Bold,
}

/// <summary>Which part of a text lies at its anchor.</summary>
public enum TextAlign
{
    /// <summary>Its beginning.</summary>
    Start,

    /// <summary>Its middle.</summary>
    Middle,

    /// <summary>Its end.</summary>
    End,
}

/// <summary>Something that a painter paints.</summary>
public abstract record SceneItem;

/// <summary>Contours, filled by the even-odd rule, or stroked, or both.</summary>
/// <param name="Contours">The contours.</param>
/// <param name="Fill">Colour of the inside; null for none.</param>
/// <param name="Pen">How the line is drawn; null for none.</param>
public sealed record ScenePath(IReadOnlyList<Contour> Contours, SceneColour? Fill, Pen? Pen) : SceneItem
{
    /// <summary>A filled path of one contour.</summary>
    public static ScenePath Filled(Contour contour, SceneColour fill, Pen? pen = null) => new([contour], fill, pen);

    /// <summary>A stroked path of one contour.</summary>
    public static ScenePath Stroked(Contour contour, Pen pen) => new([contour], null, pen);
}

/// <summary>One line of text in the one typeface of the maps.</summary>
/// <param name="Text">The text.</param>
/// <param name="Anchor">Where its baseline begins, has its middle, or ends.</param>
/// <param name="Align">Which of them.</param>
/// <param name="Size">Height of the letters' em in scene units.</param>
/// <param name="Weight">Weight.</param>
/// <param name="Colour">Colour.</param>
/// <param name="Box">The room it takes, measured with the typeface.</param>
public sealed record SceneText(
    string Text,
    ScenePoint Anchor,
    TextAlign Align,
    double Size,
    TextWeight Weight,
    SceneColour Colour,
    SceneBox Box) : SceneItem;
