namespace StagedMargins.Drawing;

/// <summary>How much a map shows.</summary>
public enum MapDetail
{
    /// <summary>Everything: blocks, inks, layers and their tables.</summary>
    Full,

    /// <summary>
    /// For a small picture: large numerals, the marks with their clock numbers, alerts and caution; no blocks, inks or tables.
    /// </summary>
    Compact,
}

/// <summary>Which detail suits a width.</summary>
public static class MapDetails
{
    /// <summary>The narrowest picture, in pixels, whose small print of a full map can still be read.</summary>
    public const int NarrowestFull = 720;

    /// <summary>The detail for a width in pixels.</summary>
    public static MapDetail For(int width) => width < NarrowestFull ? MapDetail.Compact : MapDetail.Full;
}
