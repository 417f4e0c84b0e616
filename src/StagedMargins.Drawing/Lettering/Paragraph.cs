using StagedMargins.Drawing.Primitives;

namespace StagedMargins.Drawing.Lettering;

/// <summary>A text broken into lines that fit a width.</summary>
internal sealed class Paragraph
{
    private const string Cut = "…";
    private readonly TextStyle style;
    private readonly List<string> lines;

    private Paragraph(TextStyle style, List<string> lines)
    {
        (this.style, this.lines) = (style, lines);
    }

    /// <summary>The lines.</summary>
    internal IReadOnlyList<string> Lines => lines;

    /// <summary>Height of all lines together.</summary>
    internal double Height => lines.Count == 0 ? 0 : ((lines.Count - 1) * style.LineHeight) + style.Size;

    /// <summary>Width of the widest line.</summary>
    internal double Width => lines.Count == 0 ? 0 : lines.Max(style.WidthOf);

    /// <summary>Breaks a text at spaces, and inside a word that is wider than the line.</summary>
    /// <param name="text">The text; blanks and line ends count as spaces.</param>
    /// <param name="style">How it is written.</param>
    /// <param name="width">Width of the lines.</param>
    /// <param name="longest">The most lines; what does not fit ends in an ellipsis.</param>
    internal static Paragraph Of(string text, TextStyle style, double width, int longest = int.MaxValue)
    {
        var words = text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries).SelectMany(word => Pieces(word, style, width));
        var lines = new List<string>();
        foreach (var (piece, joins) in words)
        {
            var longer = lines.Count == 0 ? piece : joins ? lines[^1] + piece : $"{lines[^1]} {piece}";
            if (lines.Count > 0 && style.WidthOf(longer) <= width)
            {
                lines[^1] = longer;
            }
            else
            {
                lines.Add(piece);
            }
        }

        if (lines.Count > longest)
        {
            lines.RemoveRange(longest, lines.Count - longest);
            lines[^1] = Shorten(lines[^1], style, width);
        }

        return new Paragraph(style, lines);
    }

    /// <summary>The lines on a page.</summary>
    /// <param name="x">Where they begin, have their middle, or end.</param>
    /// <param name="top">The top of the first line.</param>
    /// <param name="align">Which of them.</param>
    internal IEnumerable<SceneText> At(double x, double top, TextAlign align = TextAlign.Start) =>
        lines.Select((line, i) => style.Write(line, new ScenePoint(x, top + style.Ascent + (i * style.LineHeight)), align));

    // A long word is broken where the line is full, without a hyphen, which could be read as part of a number.
    private static IEnumerable<(string Piece, bool Joins)> Pieces(string word, TextStyle style, double width)
    {
        var joins = false;
        var rest = word;
        while (rest.Length > 1 && style.WidthOf(rest) > width)
        {
            var fits = 1;
            while (fits < rest.Length - 1 && style.WidthOf(rest[..(fits + 1)]) <= width)
            {
                fits++;
            }

            fits += char.IsHighSurrogate(rest[fits - 1]) ? 1 : 0;
            yield return (rest[..fits], joins);
            (rest, joins) = (rest[fits..], true);
        }

        if (rest.Length > 0)
        {
            yield return (rest, joins);
        }
    }

    private static string Shorten(string line, TextStyle style, double width)
    {
        var end = line.Length;
        while (end > 0 && style.WidthOf(line[..end].TrimEnd() + Cut) > width)
        {
            end -= end > 1 && char.IsLowSurrogate(line[end - 1]) ? 2 : 1;
        }

        return line[..end].TrimEnd() + Cut;
    }
}
