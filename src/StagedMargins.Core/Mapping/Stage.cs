using StagedMargins.Core.Entries;

namespace StagedMargins.Core.Mapping;

/// <summary>One round of a case: the layer taken, its blocks and their readings.</summary>
public sealed record Stage
{
    private readonly LayerRecorded layer;
    private readonly Block[] blocks = [];

    internal Stage(LayerRecorded layer, int number, Authorship written)
    {
        (Number, TakenAt, Pieces) = (number, layer.TakenAt, layer.Pieces);
        (this.layer, Overlap, RecordedById, RecordedAt) = (layer, layer.Overlap, written.ById, written.At);
        blocks = [.. layer.Blocks.Select((block, i) => new Block(block, i + 1, written))];
    }

    /// <summary>Its number in the case, from 1.</summary>
    public int Number { get; }

    /// <summary>When the tissue left the patient.</summary>
    public ClinicalTime TakenAt { get; }

    /// <summary>The pieces of its layer.</summary>
    public IReadOnlyList<Piece> Pieces { get; }

    /// <summary>What was said when the stage was recorded, kept as it was said.</summary>
    public IReadOnlyList<MarginAlert> Alerts => [.. layer.Alerts.Select(alert => new MarginAlert(
        alert.Code, alert.Margin, alert.Region, alert.Code == AlertCode.SiteNotConfirmed ? layer.ReasonForUnconfirmedSite?.Text : null))];

    /// <summary>The overlap it was planned with.</summary>
    public Overlap Overlap { get; }

    /// <summary>Why it was taken while readings of the last stage were missing, where that was so.</summary>
    public string? ReasonForUnread => layer.ReasonForUnread?.Text;

    /// <summary>Who recorded it.</summary>
    public Guid RecordedById { get; }

    /// <summary>When it was recorded.</summary>
    public ClinicalTime RecordedAt { get; }

    /// <summary>Its blocks, in the order they were recorded.</summary>
    public IReadOnlyList<Block> Blocks
    {
        get => blocks;
        internal init => blocks = [.. value];
    }

    /// <summary>Its blocks, to go through without a call for each.</summary>
    internal ReadOnlySpan<Block> BlockSpan => blocks;

    /// <summary>Every entry of its times, oldest first.</summary>
    public IReadOnlyList<StageTime> Times { get; internal init; } = [];

    /// <summary>The block of a label.</summary>
    /// <exception cref="NotInRecordException">There is none.</exception>
    public Block BlockOf(string label) => Array.Find(blocks, block => block.Label == label)
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
    public ClinicalTime? TimeOf(StageMoment moment) => Times.LastOrDefault(entry => entry.Moment == moment)?.Time;

    /// <summary>The same with another block of a label.</summary>
    internal Stage With(string label, Func<Block, Block> change) => this with { Blocks = blocks.Replace(Array.FindIndex(blocks, block => block.Label == label), change) };
}
