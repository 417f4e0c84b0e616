using StagedMargins.Core.Entries;

namespace StagedMargins.Core.Mapping;

/// <summary>One round of a case: the layer taken, its blocks and their readings.</summary>
public sealed record Stage
{
    private readonly LayerRecorded layer;
    private readonly Block[] blocks = [];

    internal Stage(LayerRecorded layer, int number, Authorship written, int version)
    {
        (Number, TakenAt, Pieces) = (number, layer.TakenAt, layer.Pieces);
        (this.layer, Overlap, RecordedById, RecordedAt, Version) = (layer, layer.Overlap, written.ById, written.At, version);
        blocks = [.. layer.Blocks.Select((block, i) => new Block(block, i + 1, written))];
    }

    /// <summary>Its number in the case, from 1.</summary>
    public int Number { get; }

    /// <summary>When the tissue left the patient.</summary>
    public ClinicalTime TakenAt { get; private init; }

    /// <summary>The pieces of its layer.</summary>
    public IReadOnlyList<Piece> Pieces { get; private init; }

    /// <summary>What was said when the stage was recorded, kept as it was said.</summary>
    public IReadOnlyList<MarginAlert> Alerts => [.. layer.Alerts.Select(alert => new MarginAlert(
        alert.Code, alert.Margin, alert.Region, alert.Code == AlertCode.SiteNotConfirmed ? layer.ReasonForUnconfirmedSite?.Text : null))];

    /// <summary>The overlap it was planned with.</summary>
    public Overlap Overlap { get; }

    /// <summary>Why it was taken while readings of the last stage were missing, where that was so.</summary>
    public string? ReasonForUnread => layer.ReasonForUnread?.Text;

    /// <summary>Why it leaves tumour where it is, where that was said.</summary>
    public string? ReasonForLeftBehind => layer.ReasonForLeftBehind?.Text;

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

    /// <summary>The number of its entry in the case.</summary>
    public int Version { get; }

    /// <summary>Blocks that a correction removed, with their readings, which no longer stand.</summary>
    public IReadOnlyList<Block> RemovedBlocks { get; private init; } = [];

    /// <summary>Every correction of it, oldest first.</summary>
    public IReadOnlyList<StageCorrection> Corrections { get; private init; } = [];

    /// <summary>Every entry of its times, oldest first.</summary>
    public IReadOnlyList<StageTime> Times { get; internal init; } = [];

    /// <summary>The block of a label.</summary>
    /// <exception cref="NotInRecordException">There is none.</exception>
    public Block BlockOf(string label) => Array.Find(blocks, block => block.Label == label)
        ?? throw new NotInRecordException($"Stage {Number} has no such block.");

    /// <summary>The piece that a block was cut from.</summary>
    public Piece PieceOf(Block block) => Pieces[block.PieceNumber - 1];

    /// <summary>The part of a margin that a block covers on its piece: none of a margin that it does not show.</summary>
    public MarginRegion Covered(Block block, Margin margin) => block.Shows.Has(margin) ? PieceOf(block).Exposes(margin).Intersect(block.Region()) : MarginRegion.None;

    /// <summary>
    /// True where the tissue of a block was embedded again in another: what it covered and left unread is no longer its own. Its positive
    /// places stand until they are taken or amended.
    /// </summary>
    public bool IsReplaced(Block block) => Array.Exists(blocks, other => other.Replaces.Any(label => Block.IsSameLabel(label, block.Label)));

    /// <summary>What this stage takes of a margin, whatever has been seen of it.</summary>
    public MarginRegion Taken(Margin margin) => MarginRegion.UnionOf(Pieces.Select(piece => piece.Renews(margin)));

    /// <summary>When a moment of the bench came, as last entered; null where it was not.</summary>
    public ClinicalTime? TimeOf(StageMoment moment) => Times.LastOrDefault(entry => entry.Moment == moment)?.Time;

    /// <summary>The same as it was corrected. Readings of blocks that are no longer the same stay in the record and count no more.</summary>
    /// <param name="corrected">The correction.</param>
    /// <param name="written">By whom, and when.</param>
    internal Stage Corrected(StageCorrected corrected, Authorship written)
    {
        var withdrawal = new Withdrawal(corrected.Reason, written);
        var now = (corrected.Blocks ?? [.. blocks.Select(block => block.Recorded)]).Select((recorded, i) =>
        {
            var former = Array.Find(blocks, block => Block.IsSameLabel(block.Label, recorded.Label));
            return former is not null && !corrected.ChangedBlocks.Contains(former.Label)
                ? new Block(recorded, i + 1, new Authorship(former.RecordedById, former.RecordedAt)) { Readings = former.Readings, Evidence = former.Evidence }
                : new Block(recorded, i + 1, written) { Readings = former?.WithReadingsWithdrawn(withdrawal).Readings ?? [] };
        }).ToArray();
        return this with
        {
            TakenAt = corrected.TakenAt ?? TakenAt,
            Pieces = corrected.Pieces ?? Pieces,
            Blocks = now,
            RemovedBlocks = [.. RemovedBlocks, .. blocks.Where(block => !Array.Exists(now, other => Block.IsSameLabel(other.Label, block.Label))).Select(block => block.WithReadingsWithdrawn(withdrawal))],
            Corrections = Corrections.Plus(new StageCorrection(corrected, this, written)),
        };
    }

    /// <summary>The same with every reading withdrawn.</summary>
    internal Stage WithReadingsWithdrawn(Withdrawal withdrawal) => this with { Blocks = [.. blocks.Select(block => block.WithReadingsWithdrawn(withdrawal))] };

    /// <summary>The same with another block of a label.</summary>
    internal Stage With(string label, Func<Block, Block> change) => this with { Blocks = blocks.Replace(Array.FindIndex(blocks, block => block.Label == label), change) };
}
