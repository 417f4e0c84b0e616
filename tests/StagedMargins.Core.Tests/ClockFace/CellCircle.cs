namespace StagedMargins.Core.Tests.ClockFace;

/// <summary>
/// The circle as 720 cells, one for each clock minute: a plain model of sets of arcs that shares nothing with the code under test.
/// </summary>
internal static class CellCircle
{
    public const int Cells = 720;

    /// <summary>Cells painted by arcs, each given by its first minute and its length.</summary>
    public static bool[] Paint(IEnumerable<(int From, int Minutes)> arcs)
    {
        var cells = new bool[Cells];
        foreach (var (from, minutes) in arcs)
        {
            for (var i = 0; i < minutes; i++)
            {
                cells[(from + i) % Cells] = true;
            }
        }

        return cells;
    }

    /// <summary>Cells within a number of minutes of a painted one: a window slid round the circle holds at least one.</summary>
    public static bool[] Widen(bool[] cells, int minutes)
    {
        var wide = new bool[Cells];
        var reach = Math.Min(minutes, Cells / 2);
        var held = Enumerable.Range(-reach, (2 * reach) + 1).Count(i => cells[(i + Cells) % Cells]);
        for (var i = 0; i < Cells; i++)
        {
            wide[i] = held > 0;
            held += (cells[(i + reach + 1) % Cells] ? 1 : 0) - (cells[(i - reach + Cells) % Cells] ? 1 : 0);
        }

        return wide;
    }

    /// <summary>The longest unbroken runs round the circle, by where they begin; the whole circle begins at 0.</summary>
    public static List<(int From, int Minutes)> Runs(bool[] cells)
    {
        if (cells.All(cell => cell))
        {
            return [(0, Cells)];
        }

        var runs = new List<(int From, int Minutes)>();
        for (var i = 0; i < Cells; i++)
        {
            if (!cells[i] || cells[(i + Cells - 1) % Cells])
            {
                continue;
            }

            var minutes = 1;
            while (cells[(i + minutes) % Cells])
            {
                minutes++;
            }

            runs.Add((i, minutes));
        }

        return runs;
    }
}
