namespace StagedMargins.Core.Tests.Oracle;

/// <summary>What a piece of a layer is, in the oracle's own words.</summary>
internal enum Part
{
    Whole,
    Rim,
    Floor,
    RimAndFloor,
}

/// <summary>One reader's result.</summary>
internal enum Result
{
    Clear,
    Tumour,
    Unreadable,
}

/// <summary>What was seen at a place.</summary>
internal enum Seen
{
    Tumour,
    Nerve,
    Inflammation,
    Scar,
}

/// <summary>Where something lies: a first clock minute and a length, 0 for no arc, and the centre of the floor or not.</summary>
internal sealed class Where(int from, int minutes, bool centre)
{
    public int From { get; } = from;

    public int Minutes { get; } = minutes;

    public bool Centre { get; } = centre;

    public bool[] Cells { get; } = OracleCells.Fill(cell => cell == OracleCells.Centre ? centre : (cell - from + 720) % 720 < minutes);

    public override string ToString() => $"{From}+{Minutes}{(Centre ? " centre" : "")}";
}

/// <summary>A piece. A whole layer lies everywhere.</summary>
internal sealed class OraclePiece(Part part, Where where)
{
    private static readonly bool[] Nothing = new bool[OracleCells.Count];

    public Part Part { get; } = part;

    public Where Where { get; } = where;

    public bool[] Renews(bool deep) => (Part, deep) switch
    {
        (Part.Rim, true) or (Part.Floor, false) => Nothing,
        (_, true) => Where.Cells,
        _ => Edge,
    };

    /// <summary>A rim has a floor of its own, which must be seen though the floor of the wound is not renewed.</summary>
    public bool[] Exposes(bool deep) => Part == Part.Rim && deep ? Where.Cells : Renews(deep);

    public bool[] Tissue => Where.Cells;

    private bool[] Edge => [.. Where.Cells[..OracleCells.Centre], false];

    public override string ToString() => $"{Part} {Where}";
}

/// <summary>A stretch along the slide in thousandths of the block's arc.</summary>
internal sealed record Slide(int Start, int End, bool Mirrored)
{
    /// <summary>The minutes of a block that the stretch overlaps, counted one by one.</summary>
    public Where On(Where block, bool centre)
    {
        var (start, end) = Mirrored ? (1000 - End, 1000 - Start) : (Start, End);
        var touched = Enumerable.Range(0, block.Minutes)
            .Where(minute => (minute + 1) * 1000 > start * block.Minutes && minute * 1000 < end * block.Minutes)
            .ToList();
        return new Where((block.From + touched[0]) % 720, touched.Count, centre);
    }
}

/// <summary>Something found in a block, and how its place was given where that was along the slide.</summary>
internal sealed record OracleFinding(Seen Seen, bool Deep, Where Where, Slide? Slide)
{
    public bool IsPositive => Seen is Seen.Tumour or Seen.Nerve;

    public override string ToString() => $"{Seen} {(Deep ? "deep" : "edge")} {Where} {Slide}";
}

/// <summary>A reading.</summary>
internal sealed record OracleReading(Result Result, IReadOnlyList<OracleFinding> Findings);

/// <summary>A block with its readings; the last one counts. The piece is counted from 0.</summary>
internal sealed class OracleBlock(string label, Where where, int? piece)
{
    public string Label { get; } = label;

    public Where Where { get; } = where;

    public int? Piece { get; } = piece;

    public List<OracleReading> Readings { get; } = [];

    public bool IsAdequate => Readings.Count > 0 && Readings[^1].Result != Result.Unreadable;

    public override string ToString() => $"{Label} {Where} of piece {Piece}";
}
