namespace StagedMargins.Core.Tests.Oracle;

/// <summary>One stage: what was taken, how it was cut, and what may lie where. Every set is an array of cells.</summary>
internal sealed class OracleStage(IReadOnlyList<OraclePiece> pieces)
{
    private readonly bool[] edgeTaken = OracleCells.Or(pieces.Select(piece => piece.Renews(false)));
    private readonly bool[] floorTaken = OracleCells.Or(pieces.Select(piece => piece.Renews(true)));

    public IReadOnlyList<OraclePiece> Pieces { get; } = pieces;

    public List<OracleBlock> Blocks { get; } = [];

    public bool[] Taken(bool deep) => deep ? floorTaken : edgeTaken;

    /// <summary>What a piece exposes and no block of that piece covers.</summary>
    public bool[] Unmapped(bool deep) => OracleCells.Or(Pieces.Select((piece, index) =>
        OracleCells.Minus(piece.Exposes(deep), OracleCells.Or(CutFrom(index).Select(block => block.Where.Cells)))));

    /// <summary>What a piece exposes and was not seen in some block of that piece, or was left unread by one.</summary>
    public bool[] Unseen(bool deep) => OracleCells.Or(Pieces.Select((piece, index) => OracleCells.Minus(piece.Exposes(deep), Adequate(index))));

    public bool[] Found(Func<OracleFinding, bool> which, bool deep) => OracleCells.Or(Blocks
        .Where(block => block.Readings.Count > 0)
        .SelectMany(block => block.Readings[^1].Findings)
        .Where(finding => finding.Deep == deep && which(finding))
        .Select(finding => finding.Where.Cells));

    /// <summary>A block lies on the one piece it was cut from: the piece it names, or the only one that holds it.</summary>
    public bool Allows(OracleBlock block) =>
        !OracleCells.IsEmpty(block.Where.Cells) && PieceOf(block) is { } index && index < Pieces.Count && Holds(index, block);

    public bool Allows(OracleBlock block, OracleReading reading) =>
        reading.Findings.All(finding => Allows(block, finding))
        && reading.Result switch
        {
            Result.Tumour => reading.Findings.Any(finding => finding.IsPositive),
            Result.Clear => !reading.Findings.Any(finding => finding.IsPositive),
            _ => true,
        };

    // A finding lies inside its block, on a margin that its piece exposes there; the edge has no centre.
    private bool Allows(OracleBlock block, OracleFinding finding) =>
        !OracleCells.IsEmpty(finding.Where.Cells)
        && OracleCells.IsWithin(finding.Where.Cells, block.Where.Cells)
        && OracleCells.IsWithin(finding.Where.Cells, Pieces[PieceOf(block)!.Value].Exposes(finding.Deep));

    private bool[] Adequate(int piece)
    {
        var seen = OracleCells.Or(CutFrom(piece).Where(block => block.IsAdequate).Select(block => block.Where.Cells));
        var notSeen = OracleCells.Or(CutFrom(piece).Where(block => !block.IsAdequate).Select(block => block.Where.Cells));
        return OracleCells.Minus(seen, notSeen);
    }

    private IEnumerable<OracleBlock> CutFrom(int piece) => Blocks.Where(block => PieceOf(block) == piece);

    private int? PieceOf(OracleBlock block)
    {
        if (block.Piece is { } named)
        {
            return named;
        }

        var holding = Enumerable.Range(0, Pieces.Count).Where(index => Holds(index, block)).ToList();
        return holding.Count == 1 ? holding[0] : null;
    }

    private bool Holds(int piece, OracleBlock block) => OracleCells.IsWithin(block.Where.Cells, Pieces[piece].Tissue);
}
