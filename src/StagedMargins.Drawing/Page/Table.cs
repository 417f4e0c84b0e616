using StagedMargins.Drawing.Lettering;
using StagedMargins.Drawing.Primitives;

namespace StagedMargins.Drawing.Page;

/// <summary>A cell of a table: some words, with a swatch of colour before them or not.</summary>
/// <param name="Text">The words.</param>
/// <param name="Swatch">Colour of the swatch.</param>
internal sealed record Cell(string Text, SceneColour? Swatch = null);

/// <summary>A column of a table.</summary>
/// <param name="Title">Its title.</param>
/// <param name="Share">Its share of the width.</param>
internal sealed record Column(string Title, double Share);

/// <summary>Rows under titled columns, side by side where there are many.</summary>
internal static class Table
{
    private const int MostLines = 6;
    private const int MostRowsInOne = 8;

    /// <summary>Draws a table and goes below it.</summary>
    internal static void Draw(Sheet sheet, SceneRole role, string name, IReadOnlyList<Column> columns, IReadOnlyList<IReadOnlyList<Cell>> rows)
    {
        var m = sheet.Measures;
        var halves = rows.Count > MostRowsInOne ? 2 : 1;
        var between = m.Gap * 2;
        var width = (m.Inner - ((halves - 1) * between)) / halves;
        var perHalf = (rows.Count + halves - 1) / halves;
        var bottom = sheet.Top;
        var items = new List<SceneItem>();
        for (var half = 0; half < halves; half++)
        {
            var left = sheet.Left + (half * (width + between));
            var part = new Part(m, left, width, columns, items);
            bottom = Math.Max(bottom, part.Draw(sheet.Top, [.. rows.Skip(half * perHalf).Take(perHalf)]));
        }

        sheet.Add(new SceneGroup(role, name, items));
        sheet.Down(bottom - sheet.Top);
    }

    private sealed class Part(Measures m, double left, double width, IReadOnlyList<Column> columns, List<SceneItem> items)
    {
        private readonly TextStyle title = TextStyle.Bold(m.Small, Palette.Muted);
        private readonly TextStyle style = TextStyle.Regular(m.Small, Palette.Text);
        private readonly Pen line = new(Palette.Hairline, m.Line * 0.5);

        private double Padding => m.Small * 0.4;

        internal double Draw(double top, IReadOnlyList<IReadOnlyList<Cell>> rows)
        {
            var y = Row(top, [.. columns.Select(column => new Cell(column.Title))], title);
            foreach (var row in rows)
            {
                items.Add(ScenePath.Stroked(Contour.Line(new(left, y), new(left + width, y)), line));
                y = Row(y, row, style);
            }

            return y;
        }

        private double Row(double top, IReadOnlyList<Cell> cells, TextStyle style)
        {
            var (x, height) = (left, style.Size);
            for (var i = 0; i < cells.Count; i++)
            {
                var wide = width * columns[i].Share;
                var textX = x;
                if (cells[i].Swatch is { } colour)
                {
                    var side = style.Size * 0.8;
                    var box = new SceneBox(x, top + Padding + (style.Size * 0.12), x + side, top + Padding + (style.Size * 0.12) + side);
                    items.Add(ScenePath.Filled(Contour.Rectangle(box), colour, new Pen(Palette.Wound, m.Line * 0.4)));
                    textX += side + (style.Size * 0.45);
                }

                var text = Paragraph.Of(cells[i].Text, style, x + wide - textX - m.Gap * 0.6, MostLines);
                items.AddRange(text.At(textX, top + Padding));
                height = Math.Max(height, text.Height);
                x += wide;
            }

            return top + height + (2 * Padding);
        }
    }
}
