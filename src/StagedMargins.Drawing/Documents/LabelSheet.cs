using StagedMargins.Core;
using StagedMargins.Core.Wording;
using StagedMargins.Drawing.Lettering;
using StagedMargins.Drawing.Primitives;

namespace StagedMargins.Drawing.Documents;

/// <summary>Labels of blocks on sheets: 3 × 8 to a sheet, each 60 × 32 mm, without gaps, the same on both papers, with marks to cut by.</summary>
public static class LabelSheet
{
    /// <summary>Labels beside one another.</summary>
    public const int Columns = 3;

    /// <summary>Labels below one another.</summary>
    public const int RowsOfLabels = 8;

    /// <summary>Labels on a sheet.</summary>
    public const int PerSheet = Columns * RowsOfLabels;

    /// <summary>Width of a label, mm.</summary>
    public const double WidthMm = 60;

    /// <summary>Height of a label, mm.</summary>
    public const double HeightMm = 32;

    private const double Width = WidthMm * Paper.PointsPerMm;
    private const double Height = HeightMm * Paper.PointsPerMm;
    private const double CutMark = 1.5 * Paper.PointsPerMm;

    private static readonly Pen Cut = new(Palette.Muted, 0.4);
    private static readonly TextStyle Foot = TextStyle.Regular(6.5, Palette.Text);

    /// <summary>Lays the sheets out.</summary>
    /// <param name="labels">The labels, in their order: row by row, from the left.</param>
    /// <param name="paper">On which paper.</param>
    /// <param name="skip">Places left free on the first sheet, 0 to 23, where some of its labels are used already.</param>
    /// <param name="printedAt">When they are printed.</param>
    /// <param name="cancel">Stops between two labels.</param>
    /// <exception cref="InvalidEntryException">A number of places outside 0 to 23.</exception>
    public static IReadOnlyList<DocumentPage> LayOut(
        IReadOnlyList<BlockLabel> labels, Paper paper, int skip, ClinicalTime printedAt, CancellationToken cancel = default)
    {
        if (skip is < 0 or >= PerSheet)
        {
            throw new InvalidEntryException("skip", $"0 to {PerSheet - 1} places on a sheet of {PerSheet} labels can be left blank.");
        }

        var sheets = (skip + labels.Count + PerSheet - 1) / PerSheet;
        var pages = Enumerable.Range(0, sheets).Select(sheet => Frame(labels, paper, sheet, sheets, printedAt).ToList()).ToList();
        for (var i = 0; i < labels.Count; i++)
        {
            cancel.ThrowIfCancellationRequested();
            pages[(skip + i) / PerSheet].AddRange(LabelFace.Draw(labels[i], BoxOf(paper, (skip + i) % PerSheet)));
        }

        return [.. pages.Select(items => new DocumentPage(items, []))];
    }

    /// <summary>The place of a label on a sheet, points.</summary>
    /// <param name="paper">The paper.</param>
    /// <param name="place">Its number, from 0, row by row.</param>
    internal static SceneBox BoxOf(Paper paper, int place)
    {
        var (left, top) = (Left(paper) + (place % Columns * Width), Top(paper) + (place / Columns * Height));
        return new SceneBox(left, top, left + Width, top + Height);
    }

    private static double Left(Paper paper) => (paper.Width - (Columns * Width)) / 2;

    private static double Top(Paper paper) => (paper.Height - (RowsOfLabels * Height)) / 2;

    // What is no label stands outside the outermost cuts.
    private static IEnumerable<SceneItem> Frame(IReadOnlyList<BlockLabel> labels, Paper paper, int sheet, int sheets, ClinicalTime printedAt)
    {
        var (left, right, above, below) = (Left(paper), paper.Width - Left(paper), Top(paper) - CutMark - 3, paper.Height - Top(paper) + CutMark + 2);
        foreach (var line in Paragraph.Of($"The codes open {labels[0].Address.GetLeftPart(UriPartial.Authority)}; check that this is the clinic's own address.", Foot, right - left, 1).At(left, above - Foot.Ascent))
        {
            yield return line;
        }

        above -= Foot.LineHeight;
        yield return Foot.Write(
            FormattableString.Invariant($"Case {labels[0].CaseNumber}, labels of blocks, {WidthMm} × {HeightMm} mm. Print at actual size. Printed {printedAt.InWords()}"),
            new ScenePoint(left, above));
        yield return Foot.Write($"Sheet {sheet + 1} of {sheets}", new ScenePoint(right, above), TextAlign.End);
        foreach (var line in Paragraph.Of(Sentences.Disclaimer, Foot, right - left).At(left, below))
        {
            yield return line;
        }

        for (var row = 0; row <= RowsOfLabels; row++)
        {
            for (var column = 0; column <= Columns; column++)
            {
                var (x, y) = (left + (column * Width), Top(paper) + (row * Height));
                yield return new ScenePath(
                    [Contour.Line(new(x - CutMark, y), new(x + CutMark, y)), Contour.Line(new(x, y - CutMark), new(x, y + CutMark))], null, Cut);
            }
        }
    }

    /// <summary>Writes the sheets as PDF.</summary>
    /// <inheritdoc cref="LayOut"/>
    public static byte[] ToPdf(IReadOnlyList<BlockLabel> labels, Paper paper, int skip, ClinicalTime printedAt, CancellationToken cancel = default) =>
        PdfFile.Write(LayOut(labels, paper, skip, printedAt, cancel), paper, $"Labels of case {labels[0].CaseNumber}", printedAt, cancel);
}
