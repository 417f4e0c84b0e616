using System.Runtime.InteropServices;
using StagedMargins.Core.ClockFace;
using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Mapping;

/// <summary>One round of a case: the layer taken, its blocks and their readings.</summary>
public sealed class Stage
{
    private readonly List<Block> blocks = [];
    private readonly List<StageTime> times = [];

    private Stage()
    {
        Pieces = [];
        Alerts = [];
    }

    internal Stage(int number, Layer layer, Guid recordedById, ClinicalTime recordedAt)
    {
        Number = number;
        TakenAt = layer.TakenAt;
        Pieces = [.. layer.Pieces];
        Alerts = [];
        ReasonForUnread = FreeText.Optional("reasonForUnread", layer.ReasonForUnread);
        (RecordedById, RecordedAt) = (recordedById, recordedAt);
        GuardPieces();
        if (layer.Blocks.Count > RecordLimits.Blocks)
        {
            throw new InvalidEntryException("blocks", $"A stage has at most {RecordLimits.Blocks} blocks.");
        }

        for (var i = 0; i < layer.Blocks.Count; i++)
        {
            try
            {
                Add(layer.Blocks[i], recordedById, recordedAt);
            }
            catch (InvalidEntryException e)
            {
                throw e.Within($"blocks[{i}]");
            }
        }
    }

    /// <summary>Its number in the case, from 1.</summary>
    public int Number { get; private set; }

    /// <summary>When the tissue left the patient.</summary>
    public ClinicalTime TakenAt { get; private set; }

    /// <summary>The pieces of its layer.</summary>
    public IReadOnlyList<Piece> Pieces { get; private set; }

    /// <summary>What was said when the stage was recorded, kept as it was said.</summary>
    public IReadOnlyList<MarginAlert> Alerts { get; internal set; }

    /// <summary>Why it was taken while readings of the last stage were missing, where that was so.</summary>
    public string? ReasonForUnread { get; private set; }

    /// <summary>Who recorded it.</summary>
    public Guid RecordedById { get; private set; }

    /// <summary>When it was recorded.</summary>
    public ClinicalTime RecordedAt { get; private set; }

    /// <summary>Its blocks, in the order they were recorded.</summary>
    public IReadOnlyList<Block> Blocks => blocks;

    /// <summary>Its blocks, to go through without a call for each. No block may be added meanwhile.</summary>
    internal ReadOnlySpan<Block> BlockSpan => CollectionsMarshal.AsSpan(blocks);

    /// <summary>Every entry of its times, oldest first.</summary>
    public IReadOnlyList<StageTime> Times => times;

    /// <summary>The block of a label.</summary>
    /// <exception cref="NotInRecordException">There is none.</exception>
    public Block BlockOf(string label) => blocks.Find(block => block.Label == label)
        ?? throw new NotInRecordException($"Stage {Number} has no such block.");

    /// <summary>
    /// The piece that a block was cut from, counted from 1. Null in older records where a block names none and more than one piece
    /// could hold it, or none does alone: it then stands for no piece, so that nothing counts as seen by a guess.
    /// </summary>
    public int? PieceNumberOf(Block block) => block.PieceNumber ?? (BlockPlacement.PiecesHolding(Pieces, block.Region()) is [var only] ? only : null);

    /// <summary>The part of a margin that a block covers on its piece.</summary>
    public MarginRegion Covered(Block block, Margin margin) => PieceNumberOf(block) is { } number
        ? Pieces[number - 1].Exposes(margin).Intersect(block.Region())
        : MarginRegion.None;

    /// <summary>What this stage takes of a margin, whatever has been seen of it.</summary>
    public MarginRegion Taken(Margin margin) => MarginRegion.UnionOf(Pieces.Select(piece => piece.Renews(margin)));

    internal Block AddBlock(BlockEntry entry, Guid recordedById, ClinicalTime recordedAt)
    {
        if (blocks.Count >= RecordLimits.Blocks)
        {
            throw new InvalidEntryException("label", $"A stage has at most {RecordLimits.Blocks} blocks.");
        }

        if (blocks.Exists(block => block.Label == entry.Label))
        {
            throw new RuleViolationException("labelTaken", $"Stage {Number} already has a block with this label; choose another.");
        }

        return Add(entry, recordedById, recordedAt);
    }

    /// <summary>When a moment of the bench came, as last entered; null where it was not.</summary>
    public ClinicalTime? TimeOf(StageMoment moment) => times.FindLast(entry => entry.Moment == moment)?.Time;

    internal void Record(StageMoment moment, ClinicalTime time, Guid byId, ClinicalTime at) =>
        times.Add(new StageTime(times.Count + 1, moment, time, byId, at));

    /// <summary>Puts a finding on the patient's clock face and refuses it off its block.</summary>
    internal Finding Place(Block block, FindingEntry entry)
    {
        var arc = ArcOnFace(block, entry);
        var finding = new Finding(entry.Kind, entry.Margin, arc, entry.Centre, entry.Along);
        if (entry.Margin == Margin.Peripheral && entry.Centre)
        {
            throw new InvalidEntryException("centre", "The centre belongs to the deep margin; a finding at the peripheral margin has an arc.");
        }

        if (entry.Centre && !block.Centre)
        {
            throw new InvalidEntryException("centre", $"Block {block.Label} does not include the centre.");
        }

        if (!block.Region().Contains(finding.Region()))
        {
            throw new InvalidEntryException("arc", $"This is outside block {block.Label}, which covers: {block.Region().InSentence()}.");
        }

        var covered = Covered(block, entry.Margin);
        if (entry.Margin == Margin.Peripheral && covered.IsEmpty)
        {
            throw new InvalidEntryException("margin", $"Block {block.Label} is cut from a base, which has no peripheral margin.");
        }

        return covered.Contains(finding.Region())
            ? finding
            : throw new InvalidEntryException("arc", $"Block {block.Label} shows the {Terms.Of(entry.Margin)} only here: {covered.InSentence()}.");
    }

    private static ClockArc? ArcOnFace(Block block, FindingEntry entry)
    {
        if (entry is { Arc: not null, Along: not null })
        {
            throw new InvalidEntryException("along", "Place a finding by its arc or along the slide, not both.");
        }

        if (entry is { Arc: null, Along: null, Centre: false })
        {
            throw new InvalidEntryException("arc", "A finding needs its place: an arc, a stretch along the slide, or the centre.");
        }

        if (entry.Along is null)
        {
            return entry.Arc;
        }

        return block.Arc is { } arc
            ? entry.Along.ToClockArc(arc)
            : throw new InvalidEntryException("along", $"Block {block.Label} covers the centre only, so it has no arc to place a finding along.");
    }

    private Block Add(BlockEntry entry, Guid recordedById, ClinicalTime recordedAt)
    {
        var block = new Block(entry, blocks.Count + 1, recordedById, recordedAt);
        if (blocks.Exists(other => other.Label == block.Label))
        {
            throw new InvalidEntryException("label", $"Label {block.Label} is used twice; each block of a stage needs its own label.");
        }

        block.PieceNumber = BlockPlacement.PieceOf(Pieces, block);
        blocks.Add(block);
        return block;
    }

    private void GuardPieces()
    {
        if (Pieces.Count > RecordLimits.Pieces)
        {
            throw new InvalidEntryException("pieces", $"A layer has at most {RecordLimits.Pieces} pieces.");
        }

        var wholes = Pieces.Count(piece => piece.Kind == PieceKind.Whole);
        if (Number == 1 && (Pieces.Count != 1 || wholes != 1))
        {
            throw new InvalidEntryException("pieces", "Stage 1 must be exactly one whole layer.");
        }

        if (Number > 1 && (Pieces.Count == 0 || wholes > 0))
        {
            throw new InvalidEntryException("pieces", "A later stage must be one or more rims or bases; only stage 1 is a whole layer.");
        }
    }
}
