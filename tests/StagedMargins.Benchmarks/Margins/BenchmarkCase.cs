using StagedMargins.Core;
using StagedMargins.Core.ClockFace;
using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Risk;
using StagedMargins.Core.Shape;

namespace StagedMargins.Benchmarks.Margins;

/// <summary>An invented case of stages that are each a full circle of blocks, all read, every third with tumour on both margins.</summary>
internal static class BenchmarkCase
{
    internal const int Stages = 6;
    internal const int Blocks = 20;

    internal static readonly Overlap Overlap = new(15);

    private static readonly Guid Surgeon = new(2, 0, 0, new byte[8]);
    private static readonly ClinicalTime At = ClinicalTime.From(new DateTimeOffset(2026, 3, 3, 9, 0, 0, TimeSpan.Zero));

    internal static CaseLog Make(string number = "N-0000001", int stages = Stages, int blocks = Blocks)
    {
        var facts = new CaseFacts(Site.Of("C44.3", BodySide.Left, "alar crease"), null, new Tumour("8090/3", null, null, null, null, null, null, null, null, null, null), null, null, null, null, []);
        var made = new CaseLog(new Guid(1, 0, 0, new byte[8]), number, new NewCase("K-10001", Surgeon, facts, "toward the vertex"), SizeBoundary.BelongsAbove, Surgeon, At);
        for (var stage = 1; stage <= stages; stage++)
        {
            made.RecordLayer(new Layer(At, [PieceOf(stage)], [.. Enumerable.Range(0, blocks).Select(block => BlockOf(block, blocks))]), Overlap, Surgeon, At);
            for (var block = 0; block < blocks; block++)
            {
                made.RecordReading(stage, LabelOf(block), ReadingOf(stage, block, blocks), Surgeon, At);
            }
        }

        return made;
    }

    private static Piece PieceOf(int stage) => stage == 1
        ? new Piece(PieceKind.Whole, null, false, null, new EllipseOutline(Length.FromMillimetres(14), Length.FromMillimetres(10), ClockPosition.Twelve), null)
        : new Piece(PieceKind.RimAndBase, ClockArc.Whole, true, Length.FromMillimetres(2), null, null);

    private static BlockEntry BlockOf(int block, int blocks) => new(LabelOf(block), ArcOf(block, blocks), block == 0, "blue", "red");

    private static ReadingEntry ReadingOf(int stage, int block, int blocks)
    {
        FindingEntry[] found = (block + stage) % 3 == 0
            ? [new(FindingKind.Tumour, Margin.Peripheral, ArcOf(block, blocks), null, false), new(FindingKind.Tumour, Margin.Deep, ArcOf(block, blocks), null, false)]
            : [];
        return new ReadingEntry(found.Length > 0 ? ReadingOutcome.Tumour : ReadingOutcome.Clear, Surgeon, At, found);
    }

    private static ClockArc ArcOf(int block, int blocks)
    {
        var from = block * ClockPosition.MinutesInCircle / blocks;
        return ClockArc.Starting(new ClockPosition(from), ((block + 1) * ClockPosition.MinutesInCircle / blocks) - from);
    }

    private static string LabelOf(int block) => FormattableString.Invariant($"A{block}");
}
