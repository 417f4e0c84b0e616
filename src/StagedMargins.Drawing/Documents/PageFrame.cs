using StagedMargins.Core.Wording;
using StagedMargins.Drawing.Lettering;
using StagedMargins.Drawing.Primitives;

namespace StagedMargins.Drawing.Documents;

/// <summary>What stands on each page: whose record it is, which way the face is turned, the caution, and the page's number.</summary>
internal sealed class PageFrame
{
    private const double Margin = 40;
    private static readonly TextStyle Head = TextStyle.Bold(9.5, Palette.Text);
    private static readonly TextStyle Line = TextStyle.Regular(8.5, Palette.Text);
    private static readonly TextStyle Foot = TextStyle.Regular(7.5, Palette.Muted);
    private static readonly Pen Rule = new(Palette.Text, 0.7);

    private readonly Paper paper;
    private readonly List<SceneItem> items = [];
    private readonly string printed;
    private readonly double top;
    private readonly double bottom;

    internal PageFrame(RecordPrintout print, Paper paper)
    {
        this.paper = paper;
        printed = $"Printed {print.PrintedAt.InWords()}";
        var surgicalCase = print.Case;
        var y = Put($"{print.Clinic} – case {surgicalCase.CaseNumber} – patient {surgicalCase.PatientRef}", Head, Margin * 0.8);
        y = Put($"Site: {surgicalCase.Facts.Site.InWords()}", Line, y);
        y = Put($"12 = {surgicalCase.TwelveOClock}", Line, y);
        if (print.AsOf is { } asOf)
        {
            y = Put(asOf, Head, y);
        }

        items.Add(ScenePath.Stroked(Contour.Line(new(Margin, y + 1), new(paper.Width - Margin, y + 1)), Rule));
        top = y + 10;
        bottom = paper.Height - (Margin * 0.8) - DisclaimerLines.Height - Foot.LineHeight - 8;
    }

    private double Inner => paper.Width - (2 * Margin);

    private Paragraph DisclaimerLines => Paragraph.Of(Sentences.Disclaimer, Foot, Inner);

    /// <summary>Empty pages within the frame.</summary>
    internal PageFlow Flow() => new(Margin, top, paper.Width - Margin, bottom);

    /// <summary>The pages with the frame around each.</summary>
    internal IReadOnlyList<DocumentPage> Around(IReadOnlyList<DocumentPage> pages) =>
        [.. pages.Select((page, i) => page with { Items = [.. items, .. page.Items, .. Footer(i + 1, pages.Count)] })];

    private IEnumerable<SceneItem> Footer(int page, int pages)
    {
        var y = bottom + 8;
        yield return ScenePath.Stroked(Contour.Line(new(Margin, y - 4), new(paper.Width - Margin, y - 4)), Rule);
        foreach (var line in DisclaimerLines.At(Margin, y))
        {
            yield return line;
        }

        var last = y + DisclaimerLines.Height + 3 + Foot.Ascent;
        yield return Foot.Write(printed, new ScenePoint(Margin, last));
        yield return Foot.Write($"Page {page} of {pages}", new ScenePoint(paper.Width - Margin, last), TextAlign.End);
    }

    private double Put(string words, TextStyle style, double y)
    {
        var lines = Paragraph.Of(words, style, Inner);
        items.AddRange(lines.At(Margin, y));
        return y + lines.Height + 3;
    }
}
