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

        flow.Room(40);
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

    private void Write(Row row)
    {
        var style = PageFlow.Body;
        var cells = row.Cells.Select((cell, i) => Paragraph.Of(cell, style, Wide(i)).Lines).ToList();
        var lines = Math.Max(1, cells.Max(cell => cell.Count));
        var whole = (lines * style.LineHeight) + (2 * Padding);
        // A short row stays in one piece; a long one may go on overleaf.
        Room(whole < flow.WholePage / 3 ? whole : style.LineHeight + (2 * Padding));
        flow.Add(ScenePath.Stroked(Contour.Line(new(flow.Left, flow.Y), new(flow.Left + flow.Width, flow.Y)), Hairline));
        flow.Down(Padding);
        for (var line = 0; line < lines; line++)
        {
            Room(style.LineHeight + Padding);
            for (var i = 0; i < cells.Count; i++)
            {
                if (line < cells[i].Count)
                {
                    Put(style.Write(cells[i][line], new ScenePoint(At(i), flow.Y + style.Ascent)), row.IsStruck);
                }
            }

            flow.Down(style.LineHeight);
        }

        flow.Down(Padding);
    }

    private void Room(double height)
    {
        if (flow.Room(height))
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
