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
    NotSeen,
    Undetermined,
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
internal sealed class OraclePiece(Part part, Where where, bool partial = false)
{
    private static readonly bool[] Nothing = new bool[OracleCells.Count];

    public Part Part { get; } = part;

    public Where Where { get; } = where;

    /// <summary>Smaller than the floor of its arc, so that the floor of the wound is not renewed.</summary>
    public bool Partial { get; } = partial;

    public bool[] Renews(bool deep) => Partial && deep ? Nothing : Takes(deep);

    private bool[] Takes(bool deep) => (Part, deep) switch
    {
        (Part.Rim, true) or (Part.Floor, false) => Nothing,
        (_, true) => Where.Cells,
        _ => Edge,
    };

    /// <summary>A rim has a floor of its own, which must be seen though the floor of the wound is not renewed.</summary>
    public bool[] Exposes(bool deep) => Part == Part.Rim && deep ? Where.Cells : Takes(deep);

    public bool[] Tissue => Where.Cells;

    private bool[] Edge => [.. Where.Cells[..OracleCells.Centre], false];

    public override string ToString() => $"{Part} {Where}{(Partial ? " partial" : "")}";
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

    public bool IsUndecided => Seen is Seen.NotSeen or Seen.Undetermined;

    public override string ToString() => $"{Seen} {(Deep ? "deep" : "edge")} {Where} {Slide}";
}

/// <summary>A reading.</summary>
internal sealed record OracleReading(Result Result, IReadOnlyList<OracleFinding> Findings, bool NoMoreTissue = false);

/// <summary>What permanent sections showed, and how many readings the block had then.</summary>
internal sealed record OracleEvidence(Result Result, IReadOnlyList<OracleFinding> Findings, int ReadingsThen);

/// <summary>A block with its readings; the last one counts unless it was withdrawn. The piece is counted from 0.</summary>
internal sealed class OracleBlock(string label, Where where, int? piece, int shows = 0, bool mirrored = false, string? replaces = null)
{
    public string Label { get; } = label;

    public Where Where { get; } = where;

    public int? Piece { get; } = piece;

    /// <summary>0 both margins, 1 the edge alone, 2 the floor alone.</summary>
    public int Shows { get; } = shows;

    public bool Mirrored { get; } = mirrored;

    public string? Replaces { get; } = replaces;

    public List<OracleReading> Readings { get; } = [];

    public bool IsLastWithdrawn { get; set; }

    public OracleEvidence? Evidence { get; set; }

    public OracleReading? Counting => Readings.Count > 0 && !IsLastWithdrawn ? Readings[^1] : null;

    // The counting reading amends one if another counted when it was written.
    public bool CountingAmends { get; set; }

    public bool IsAdequate => Counting is { Result: not Result.Unreadable };

    public bool Shown(bool deep) => Shows == 0 || Shows == (deep ? 2 : 1);

    public void Add(OracleReading reading)
    {
        CountingAmends = Counting is not null;
        Readings.Add(reading);
        IsLastWithdrawn = false;
    }

    public override string ToString() => $"{Label} {Where} of piece {Piece} shows {Shows}{(Mirrored ? " mirrored" : "")}{(Replaces is null ? "" : $" replaces {Replaces}")}";
}
