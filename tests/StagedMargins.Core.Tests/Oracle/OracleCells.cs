namespace StagedMargins.Core.Tests.Oracle;

/// <summary>A margin as plain cells: 720 clock minutes, and the centre of the floor last.</summary>
internal static class OracleCells
{
    public const int Centre = 720;
    public const int Count = 721;

    public static bool[] Fill(Func<int, bool> holds)
    {
        var cells = new bool[Count];
        for (var i = 0; i < Count; i++)
        {
            cells[i] = holds(i);
        }

        return cells;
    }

    public static bool[] Or(IEnumerable<bool[]> all)
    {
        var cells = new bool[Count];
        foreach (var one in all)
        {
            for (var i = 0; i < Count; i++)
            {
                cells[i] |= one[i];
            }
        }

        return cells;
    }

    public static bool[] Or(bool[] left, bool[] right) => Or([left, right]);

    public static bool[] And(bool[] left, bool[] right)
    {
        var cells = new bool[Count];
        for (var i = 0; i < Count; i++)
        {
            cells[i] = left[i] & right[i];
        }

        return cells;
    }

    public static bool[] Minus(bool[] left, bool[] right)
    {
        var cells = new bool[Count];
        for (var i = 0; i < Count; i++)
        {
            cells[i] = left[i] & !right[i];
        }

        return cells;
    }

    public static bool IsEmpty(bool[] cells) => !cells.Contains(true);

    public static bool IsWithin(bool[] inner, bool[] outer) => IsEmpty(Minus(inner, outer));
}
