using StagedMargins.Drawing.Lettering;
using StagedMargins.Drawing.Primitives;

namespace StagedMargins.Drawing.Documents;

/// <summary>A row of a printed table.</summary>
/// <param name="Cells">What stands under each title.</param>
/// <param name="IsStruck">True for an entry that no longer counts: it stays to be read, struck through.</param>
internal sealed record Row(IReadOnlyList<string> Cells, bool IsStruck = false);

/// <summary>A printed table: its titles again on each page, and rows that go on over the end of a page.</summary>
internal sealed class Rows(PageFlow flow, IReadOnlyList<(string Title, double Share)> columns)
{
    private const double Padding = 2;
    private static readonly TextStyle TitleStyle = TextStyle.Bold(8, Palette.Muted);
    private static readonly TextStyle Style = PageFlow.Body;
    private static readonly Pen Hairline = new(Palette.Hairline, 0.5);
    private static readonly Pen Strike = new(Palette.Text, 0.7);

    /// <summary>Writes the table; nothing where there are no rows.</summary>
    internal static void Write(PageFlow flow, IReadOnlyList<(string Title, double Share)> columns, IEnumerable<Row> rows)
    {
        var table = new Rows(flow, columns);
        var all = rows.ToList();
        if (all.Count == 0)
        {
            return;
        }

        // A title is never left alone at the foot of a page.
        flow.EnsureSpace(TitleStyle.LineHeight + table.FirstHeight(all[0]));
        table.Titles();
        all.ForEach(table.Write);
        flow.Down(PageFlow.Gap);
    }

    private double Wide(int column) => (flow.Width * columns[column].Share) - PageFlow.Gap;

    private double At(int column) => flow.Left + (flow.Width * columns.Take(column).Sum(before => before.Share));

    private void Titles()
    {
        for (var i = 0; i < columns.Count; i++)
        {
            flow.Add(TitleStyle.Write(columns[i].Title, new ScenePoint(At(i), flow.Y + TitleStyle.Ascent)));
        }

        flow.Down(TitleStyle.LineHeight);
    }

    private List<IReadOnlyList<string>> Cells(Row row) => [.. row.Cells.Select((cell, i) => Paragraph.Of(cell, Style, Wide(i)).Lines)];

    private static int LinesOf(List<IReadOnlyList<string>> cells) => Math.Max(1, cells.Max(cell => cell.Count));

    // A short row stays in one piece; a long one may go on overleaf.
    private double Together(int lines)
    {
        var whole = (lines * Style.LineHeight) + (2 * Padding);
        return whole < flow.WholePage / 3 ? whole : Style.LineHeight + (2 * Padding);
    }

    private double FirstHeight(Row row) => Together(LinesOf(Cells(row)));

    private void Write(Row row)
    {
        var cells = Cells(row);
        var lines = LinesOf(cells);
        EnsureSpace(Together(lines));
        flow.Add(ScenePath.Stroked(Contour.Line(new(flow.Left, flow.Y), new(flow.Left + flow.Width, flow.Y)), Hairline));
        flow.Down(Padding);
        for (var line = 0; line < lines; line++)
        {
            EnsureSpace(Style.LineHeight + Padding);
            for (var i = 0; i < cells.Count; i++)
            {
                if (line < cells[i].Count)
                {
                    Put(Style.Write(cells[i][line], new ScenePoint(At(i), flow.Y + Style.Ascent)), row.IsStruck);
                }
            }

            flow.Down(Style.LineHeight);
        }

        flow.Down(Padding);
    }

    private void EnsureSpace(double height)
    {
        if (flow.EnsureSpace(height))
        {
            Titles();
        }
    }

    private void Put(SceneText text, bool isStruck)
    {
        flow.Add(text);
        if (isStruck)
        {
            var middle = text.Anchor.Y - (text.Size * 0.25);
            flow.Add(ScenePath.Stroked(Contour.Line(new(text.Box.Left, middle), new(text.Box.Right, middle)), Strike));
        }
    }
}
