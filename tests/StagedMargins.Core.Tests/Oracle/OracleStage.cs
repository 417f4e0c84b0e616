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
        OracleCells.Minus(piece.Exposes(deep), OracleCells.Or(CutFrom(index, deep).Select(block => block.Where.Cells)))));

    /// <summary>Where two pieces renew the same place.</summary>
    public bool[] Overlapping(bool deep) => OracleCells.Fill(cell => Pieces.Count(piece => piece.Renews(deep)[cell]) > 1);

    /// <summary>What readings leave undecided, of which no tissue is left.</summary>
    public bool[] Exhausted(bool deep) => OracleCells.Or(Pieces.SelectMany((piece, index) => CutFrom(index, deep)
        .Where(block => block.Counting is { NoMoreTissue: true })
        .Select(block => block.Counting!.Result == Result.Unreadable ? OracleCells.And(block.Where.Cells, piece.Exposes(deep)) : Undecided(block, deep))));

    /// <summary>What a piece exposes and was not seen in some block of that piece, or was left unread by one.</summary>
    public bool[] Unseen(bool deep) => OracleCells.Or(Pieces.Select((piece, index) => OracleCells.Or(
        [OracleCells.Minus(piece.Exposes(deep), Adequate(index, deep)), .. CutFrom(index, deep).SelectMany(block => new[] { Undecided(block, deep), Disputed(block, piece, deep) })])));

    public bool[] Found(Func<OracleFinding, bool> which, bool deep) => OracleCells.Or(Blocks
        .Where(block => block.Counting is not null)
        .SelectMany(block => block.Counting!.Findings)
        .Where(finding => finding.Deep == deep && which(finding))
        .Select(finding => finding.Where.Cells));

    /// <summary>A block lies on the one piece it was cut from: the piece it names, or the only one that holds it.</summary>
    public bool Allows(OracleBlock block) =>
        (block.Replaces is null || Blocks.Any(other => other.Label == block.Replaces)) && !OracleCells.IsEmpty(block.Where.Cells) && PieceOf(block) is { } index && index < Pieces.Count && Holds(index, block);

    public bool Allows(OracleBlock block, OracleReading reading) =>
        reading.Findings.All(finding => Allows(block, finding))
        && reading.Result switch
        {
            Result.Tumour => reading.Findings.Any(finding => finding.IsPositive),
            Result.Clear => !reading.Findings.Any(finding => finding.IsPositive),
            _ => true,
        }
        && (!reading.NoMoreTissue || reading.Result == Result.Unreadable || reading.Findings.Any(finding => finding.IsUndecided));

    /// <summary>True where a block was embedded again in another of the stage.</summary>
    public bool IsReplaced(OracleBlock block) => Blocks.Any(other => other.Replaces == block.Label);

    // A finding lies inside its block, on a margin that its piece exposes there; the edge has no centre.
    private bool Allows(OracleBlock block, OracleFinding finding) =>
        !OracleCells.IsEmpty(finding.Where.Cells)
        && block.Shown(finding.Deep)
        && (finding.Slide is null || finding.Slide.Mirrored == block.Mirrored)
        && OracleCells.IsWithin(finding.Where.Cells, block.Where.Cells)
        && OracleCells.IsWithin(finding.Where.Cells, Pieces[PieceOf(block)!.Value].Exposes(finding.Deep));

    private static bool[] Undecided(OracleBlock block, bool deep) => Places(block.Counting?.Findings ?? [], finding => finding.IsUndecided, deep);

    private static bool[] Disputed(OracleBlock block, OraclePiece piece, bool deep)
    {
        if (block is not { Evidence: { Result: Result.Tumour } evidence, Counting: { } counting } || (block.CountingAmends && block.Readings.Count > evidence.ReadingsThen))
        {
            return Places([], _ => true, deep);
        }

        var covered = OracleCells.And(block.Where.Cells, piece.Exposes(deep));
        return evidence.Findings.Any(finding => finding.IsPositive)
            ? OracleCells.Minus(OracleCells.And(covered, Places(evidence.Findings, finding => finding.IsPositive, deep)), Places(counting.Findings, finding => finding.IsPositive, deep))
            : counting.Result == Result.Tumour ? Places([], _ => true, deep) : covered;
    }

    private static bool[] Places(IEnumerable<OracleFinding> findings, Func<OracleFinding, bool> which, bool deep) =>
        OracleCells.Or(findings.Where(finding => finding.Deep == deep && which(finding)).Select(finding => finding.Where.Cells));

    private bool[] Adequate(int piece, bool deep)
    {
        var seen = OracleCells.Or(CutFrom(piece, deep).Where(block => block.IsAdequate).Select(block => block.Where.Cells));
        var notSeen = OracleCells.Or(CutFrom(piece, deep).Where(block => !block.IsAdequate).Select(block => block.Where.Cells));
        return OracleCells.Minus(seen, notSeen);
    }

    private IEnumerable<OracleBlock> CutFrom(int piece, bool deep) => Blocks.Where(block => PieceOf(block) == piece && block.Shown(deep) && !IsReplaced(block));

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
