namespace StagedMargins.Drawing.Documents;

/// <summary>A sheet of paper, upright, in points of 1/72 inch.</summary>
/// <param name="Width">Its width.</param>
/// <param name="Height">Its height.</param>
public sealed record Paper(double Width, double Height)
{
    /// <summary>A4: 210 × 297 mm (ISO 216).</summary>
    public static readonly Paper A4 = new(210 * PointsPerMm, 297 * PointsPerMm);

    /// <summary>Letter: 8.5 × 11 inches (ANSI/ASME Y14.1, size A).</summary>
    public static readonly Paper Letter = new(612, 792);

    internal const double PointsPerMm = 72 / 25.4;
}
