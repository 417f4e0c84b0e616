using StagedMargins.Core.Tests.ClockFace;

namespace StagedMargins.Core.Tests.Oracle;

/// <summary>
/// Makes up the steps of a case at random: some layers go after what is outstanding, well or badly, others anywhere; blocks that
/// cover, overlap, leave gaps or lie off the tissue; readings good, missing, unreadable, wrong or amended.
/// </summary>
internal sealed class CaseGenerator(RandomDraws random, OracleCase oracle)
{
    private int labels;

    public IReadOnlyList<OraclePiece> Layer() => oracle.Stages.Count == 0
        ? [new OraclePiece(Part.Whole, new Where(0, 720, true))]
        : [.. Enumerable.Range(0, random.OneOf(1, 1, 2, 3)).Select(_ => Piece())];

    /// <summary>Blocks for a layer; not each of them need be allowed.</summary>
    public IReadOnlyList<OracleBlock> BlocksFor(IReadOnlyList<OraclePiece> pieces) =>
    [
        .. pieces.SelectMany((piece, index) => BlocksOf(piece, index, pieces.Count)),
        .. Enumerable.Range(0, random.OneOf(0, 0, 0, 1)).Select(_ => AnyBlock(pieces.Count)),
    ];

    public OracleBlock AnyBlock(int pieces) => Block(
        new Where(random.Below(720), random.OneOf(1, random.Between(1, 90), random.Between(1, 720), 0), random.Chance(30)),
        random.Below(pieces + 1),
        random.Chance(30));

    /// <summary>A block with another of its stage embedded again in it.</summary>
    public OracleBlock Replacing(OracleStage stage)
    {
        var replaced = stage.Blocks[random.Below(stage.Blocks.Count)];
        return new OracleBlock($"B{++labels}", replaced.Where, replaced.Piece, replaced.Shows, replaced.Mirrored, random.Chance(95) ? replaced.Label : "Z9");
    }

    /// <summary>The same block as it might be corrected.</summary>
    public OracleBlock Corrected(OracleBlock block) => new(
        block.Label,
        random.Chance(50) ? new Where((block.Where.From + random.Between(-5, 5) + 720) % 720, block.Where.Minutes, block.Where.Centre) : block.Where,
        block.Piece,
        random.Chance(20) ? random.Below(3) : block.Shows,
        random.Chance(20) != block.Mirrored,
        block.Replaces);

    /// <summary>What permanent sections of a block might show.</summary>
    public OracleReading EvidenceOf(OracleBlock block)
    {
        var reading = ReadingOf(block);
        return random.Chance(30) ? new OracleReading(Result.Tumour, []) : reading with { NoMoreTissue = false };
    }

    public OracleReading ReadingOf(OracleBlock block)
    {
        List<OracleFinding> findings = [.. Enumerable.Range(0, random.OneOf(0, 0, 0, 1, 1, 2, 3)).Select(_ => Finding(block))];
        var natural = findings.Any(finding => finding.IsPositive) ? Result.Tumour : Result.Clear;
        var result = random.Chance(12) ? Result.Unreadable : random.Chance(3) ? random.OneOf(Result.Clear, Result.Tumour) : natural;
        var isUndecided = result == Result.Unreadable || findings.Any(finding => finding.IsUndecided);
        return new OracleReading(result, findings, isUndecided ? random.Chance(30) : random.Chance(1));
    }

    private OraclePiece Piece()
    {
        var now = oracle.Now;
        var part = random.OneOf(Part.Rim, Part.Rim, Part.Floor, Part.RimAndFloor);
        var wanted = now.Of(part == Part.Floor || (part == Part.RimAndFloor && random.Chance(50)));
        var runs = CellCircle.Runs(wanted.Outstanding[..OracleCells.Centre]);
        var (from, minutes) = runs.Count > 0 && random.Chance(75) ? About(runs[random.Below(runs.Count)]) : (random.Below(720), random.Between(1, random.OneOf(60, 300, 720)));
        var centre = part != Part.Rim && (now.Floor.Outstanding[OracleCells.Centre] ? random.Chance(80) : random.Chance(20));
        return new OraclePiece(part, new Where(from, part == Part.Floor && centre && random.Chance(40) ? 0 : minutes, centre), part != Part.Rim && random.Chance(15));
    }

    // A run of tumour, taken exactly, with room to spare, or too thin.
    private (int From, int Minutes) About((int From, int Minutes) run)
    {
        var before = random.OneOf(0, oracle.Overlap, random.Between(-20, 60));
        var minutes = Math.Clamp(run.Minutes + before + random.OneOf(0, oracle.Overlap, random.Between(-20, 60)), 1, 720);
        return ((run.From - before + 720) % 720, minutes);
    }

    private List<OracleBlock> BlocksOf(OraclePiece piece, int index, int pieces)
    {
        var names = pieces > 1 && random.Chance(50);
        var (where, style) = (piece.Where, random.Below(10));
        if (style == 9 || (style == 8 && where.Minutes > 0))
        {
            return style == 9 ? [] : [Block(new Where((where.From + random.Below(5)) % 720, where.Minutes, where.Centre), index, names)];
        }

        if (where.Minutes == 0)
        {
            return [Block(where, index, names)];
        }

        var count = Math.Min(random.Between(1, 4), where.Minutes);
        var centreIn = random.Below(count);
        return [.. Enumerable.Range(0, count).Select(i =>
        {
            var (start, end) = (where.Minutes * i / count, where.Minutes * (i + 1) / count);
            // One block in seven is cut short, one in seven reaches over its neighbour, or off the tissue.
            end = Math.Clamp(end + (random.Below(7) switch { 5 => -random.Below(30), 6 => random.Below(30), _ => 0 }), start + 1, start + 720);
            return Block(new Where((where.From + start) % 720, end - start, where.Centre && (i == centreIn || random.Chance(30))), index, names);
        })];
    }

    private OracleBlock Block(Where where, int piece, bool names) => new($"B{++labels}", where, names ? piece : null, random.OneOf(0, 0, 0, 0, 0, 0, 1, 2), random.Chance(20));

    private OracleFinding Finding(OracleBlock of)
    {
        var block = of.Where;
        var seen = random.OneOf(Seen.Tumour, Seen.Tumour, Seen.Nerve, Seen.Inflammation, Seen.Scar, Seen.NotSeen, Seen.Undetermined);
        var deep = of.Shows == 2 ? !random.Chance(3) : of.Shows == 1 ? random.Chance(3) : random.Chance(40);
        var centre = block.Centre ? deep && random.Chance(50) : random.Chance(2);
        if (block.Minutes == 0 || (centre && random.Chance(50)))
        {
            return new OracleFinding(seen, deep, new Where(0, 0, centre), null);
        }

        if (random.Chance(40))
        {
            var start = random.Below(1000);
            var slide = new Slide(start, random.Between(start + 1, 1000), random.Chance(3) != of.Mirrored);
            return new OracleFinding(seen, deep, slide.On(block, centre), slide);
        }

        var first = random.Below(block.Minutes);
        var minutes = random.Between(1, block.Minutes - first) + (random.Chance(3) ? random.Below(20) : 0);
        return new OracleFinding(seen, deep, new Where((block.From + first) % 720, Math.Min(minutes, 720), centre), null);
    }
}
