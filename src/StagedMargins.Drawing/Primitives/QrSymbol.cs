using QRCoder;

namespace StagedMargins.Drawing.Primitives;

/// <summary>
/// A QR code (ISO/IEC 18004) as outlines of its dark modules. Level M of error correction restores about 15 % of it; the border of 4
/// light modules, which the standard asks for, is part of its size.
/// </summary>
internal sealed class QrSymbol
{
    private readonly bool[,] dark;

    private QrSymbol(bool[,] dark) => this.dark = dark;

    /// <summary>Modules on a side, the light border included.</summary>
    internal int Side => dark.GetLength(0);

    /// <summary>The symbol of a text.</summary>
    internal static QrSymbol Of(string text)
    {
        using var code = QRCodeGenerator.GenerateQrCode(text, QRCodeGenerator.ECCLevel.M);
        var rows = code.ModuleMatrix;
        var dark = new bool[rows.Count, rows.Count];
        for (var y = 0; y < rows.Count; y++)
        {
            for (var x = 0; x < rows.Count; x++)
            {
                dark[y, x] = rows[y][x];
            }
        }

        return new QrSymbol(dark);
    }

    /// <summary>
    /// The dark modules in a square. One path along their common outlines, to be filled by the even-odd rule: squares side by side
    /// would show hairlines between them.
    /// </summary>
    /// <param name="left">Left side of the square, light border included.</param>
    /// <param name="top">Its upper side.</param>
    /// <param name="side">Its width.</param>
    /// <param name="colour">Colour of the dark modules.</param>
    internal ScenePath In(double left, double top, double side, SceneColour colour)
    {
        var module = side / Side;
        ScenePoint At((int X, int Y) corner) => new(left + (corner.X * module), top + (corner.Y * module));
        return new ScenePath([.. Outlines().Select(outline => new Contour([.. outline.Select(At)], true))], colour, null);
    }

    private bool IsDark(int x, int y) => x >= 0 && y >= 0 && x < Side && y < Side && dark[y, x];

    // Each side between a dark and a light module is walked once, with the dark one on the right hand.
    private IEnumerable<List<(int X, int Y)>> Outlines()
    {
        var sides = Sides().ToLookup(side => side.From, side => side.To).ToDictionary(from => from.Key, from => new Queue<(int X, int Y)>(from));
        foreach (var start in sides.Keys)
        {
            while (sides[start].Count > 0)
            {
                var outline = new List<(int X, int Y)>();
                var at = start;
                do
                {
                    outline.Add(at);
                    at = sides[at].Dequeue();
                }
                while (at != start);
                yield return outline;
            }
        }
    }

    private IEnumerable<((int X, int Y) From, (int X, int Y) To)> Sides()
    {
        for (var y = 0; y <= Side; y++)
        {
            for (var x = 0; x <= Side; x++)
            {
                var (here, above, before) = (IsDark(x, y), IsDark(x, y - 1), IsDark(x - 1, y));
                if (here != above)
                {
                    yield return here ? ((x, y), (x + 1, y)) : ((x + 1, y), (x, y));
                }

                if (here != before)
                {
                    yield return here ? ((x, y + 1), (x, y)) : ((x, y), (x, y + 1));
                }
            }
        }
    }
}
