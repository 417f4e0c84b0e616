using System.Runtime.InteropServices;
using StagedMargins.Core.Entries;

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

    internal Stage(LayerRecorded layer, int number, Authorship written)
    {
        (Number, TakenAt, Pieces) = (number, layer.TakenAt, layer.Pieces);
        Alerts = [.. layer.Alerts.Select(alert => new MarginAlert(
            alert.Code, alert.Margin, alert.Region, alert.Code == AlertCode.SiteNotConfirmed ? layer.ReasonForUnconfirmedSite?.Text : null))];
        (ReasonForUnread, Overlap) = (layer.ReasonForUnread?.Text, layer.Overlap);
        (RecordedById, RecordedAt) = (written.ById, written.At);
        foreach (var block in layer.Blocks)
        {
            Add(block, written);
        }
    }

    /// <summary>Its number in the case, from 1.</summary>
    public int Number { get; private set; }

    /// <summary>When the tissue left the patient.</summary>
    public ClinicalTime TakenAt { get; private set; }

    /// <summary>The pieces of its layer.</summary>
    public IReadOnlyList<Piece> Pieces { get; private set; }

    /// <summary>What was said when the stage was recorded, kept as it was said.</summary>
    public IReadOnlyList<MarginAlert> Alerts { get; private set; }

    /// <summary>The overlap it was planned with.</summary>
    public Overlap Overlap { get; private set; }

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

    /// <summary>When a moment of the bench came, as last entered; null where it was not.</summary>
    public ClinicalTime? TimeOf(StageMoment moment) => times.FindLast(entry => entry.Moment == moment)?.Time;

    internal void Add(RecordedBlock block, Authorship written) => blocks.Add(new Block(block, blocks.Count + 1, written));

    internal void Add(IEnumerable<MomentTime> entered, Authorship written)
    {
        foreach (var time in entered)
        {
            times.Add(new StageTime(time, times.Count + 1, written));
        }
    }
}
