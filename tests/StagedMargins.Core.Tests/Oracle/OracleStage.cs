namespace StagedMargins.Core.Tests.Oracle;

/// <summary>One stage: what was taken, how it was cut, and what may lie where. Every set is an array of cells.</summary>
internal sealed class OracleStage(IReadOnlyList<OraclePiece> pieces)
{
    private readonly Dictionary<(OracleBlock Block, bool Deep), bool[]> covered = [];
    private readonly bool[] edgeTaken = OracleCells.Or(pieces.Select(piece => piece.Renews(false)));
    private readonly bool[] floorTaken = OracleCells.Or(pieces.Select(piece => piece.Renews(true)));

    public IReadOnlyList<OraclePiece> Pieces { get; } = pieces;

    public List<OracleBlock> Blocks { get; } = [];

    public bool[] Taken(bool deep) => deep ? floorTaken : edgeTaken;

    public bool[] Mapped(bool deep) => OracleCells.Or(Blocks.Select(block => Covered(block, deep)));

    /// <summary>Seen in some block, and left unread by none.</summary>
    public bool[] Adequate(bool deep)
    {
        var seen = OracleCells.Or(Blocks.Where(block => block.IsAdequate).Select(block => Covered(block, deep)));
        var notSeen = OracleCells.Or(Blocks.Where(block => !block.IsAdequate).Select(block => Covered(block, deep)));
        return OracleCells.Minus(seen, notSeen);
    }

    public bool IsUnread => !OracleCells.IsWithin(Taken(false), Adequate(false)) || !OracleCells.IsWithin(Taken(true), Adequate(true));

    public bool[] Found(Func<OracleFinding, bool> which, bool deep) => OracleCells.Or(Blocks
        .Where(block => block.Readings.Count > 0)
        .SelectMany(block => block.Readings[^1].Findings)
        .Where(finding => finding.Deep == deep && which(finding))
        .Select(finding => finding.Where.Cells));

    /// <summary>A block lies on tissue of this stage, all of it on its piece where it names one.</summary>
    public bool Allows(OracleBlock block)
    {
        if (OracleCells.IsEmpty(block.Where.Cells) || block.Piece >= Pieces.Count)
        {
            return false;
        }

        var holding = block.Piece is { } named ? [Pieces[named]] : Pieces;
        return OracleCells.IsWithin(block.Where.Cells, OracleCells.Or(holding.Select(piece => piece.Tissue)));
    }

    public bool Allows(OracleBlock block, OracleReading reading) =>
        reading.Findings.All(finding => Allows(block, finding))
        && reading.Result switch
        {
            Result.Tumour => reading.Findings.Any(finding => finding.IsPositive),
            Result.Clear => !reading.Findings.Any(finding => finding.IsPositive),
            _ => true,
        };

    // A finding lies inside its block, on a margin that the block shows there; the edge has no centre.
    private bool Allows(OracleBlock block, OracleFinding finding) =>
        !OracleCells.IsEmpty(finding.Where.Cells)
        && OracleCells.IsWithin(finding.Where.Cells, block.Where.Cells)
        && OracleCells.IsWithin(finding.Where.Cells, OracleCells.Or(CutFrom(block).Select(piece => piece.Shows(finding.Deep))));

    // A block covers a place of a margin where it lies there and the tissue it was cut from renews it.
    private bool[] Covered(OracleBlock block, bool deep) => covered.TryGetValue((block, deep), out var known)
        ? known
        : covered[(block, deep)] = OracleCells.And(block.Where.Cells, OracleCells.Or(CutFrom(block).Select(piece => piece.Renews(deep))));

    // A block is a part of one piece: the one it names, else each that could be it, else all that it spans.
    private IReadOnlyList<OraclePiece> CutFrom(OracleBlock block)
    {
        var holding = Pieces.Where(piece => OracleCells.IsWithin(block.Where.Cells, piece.Tissue)).ToList();
        return block.Piece is { } named ? [Pieces[named]] : holding.Count > 0 ? holding : Pieces;
    }
}
