using StagedMargins.Core.Entries;
using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Mapping;

/// <summary>
/// Which piece of a layer a block was cut from. It is exactly one, named or the only one that holds the block: what a block shows must
/// never be counted for another piece over or under it.
/// </summary>
internal static class BlockPlacement
{
    /// <summary>The number of the piece, from 1.</summary>
    /// <param name="pieces">The pieces of the layer.</param>
    /// <param name="block">The block, which may name its piece.</param>
    /// <exception cref="InvalidEntryException">It names no piece of this layer, lies off its tissue, or could be cut from more than one.</exception>
    internal static int PieceOf(IReadOnlyList<Piece> pieces, BlockEntry block)
    {
        if (block.PieceNumber is { } named && (named < 1 || named > pieces.Count))
        {
            throw new InvalidEntryException("piece", pieces.Count == 1 ? "This stage has one piece, number 1." : $"This stage has pieces 1 to {pieces.Count}.");
        }

        var number = block.PieceNumber ?? OnlyPieceHolding(pieces, block);
        var tissue = pieces[number - 1].Tissue();
        return tissue.Contains(block.Region()) ? number : throw OffTissue(block, tissue);
    }

    /// <summary>All blocks of a layer, each with the piece it was cut from.</summary>
    /// <exception cref="InvalidEntryException">One of them can't be right, or there are too many.</exception>
    internal static IReadOnlyList<RecordedBlock> PlaceAll(IReadOnlyList<Piece> pieces, IReadOnlyList<BlockEntry> blocks)
    {
        if (blocks.Count > RecordLimits.Blocks)
        {
            throw new InvalidEntryException("blocks", $"A stage has at most {RecordLimits.Blocks} blocks.");
        }

        var placed = new List<RecordedBlock>();
        for (var i = 0; i < blocks.Count; i++)
        {
            try
            {
                var block = blocks[i].Checked();
                if (placed.Exists(other => Block.IsSameLabel(other.Label, block.Label)))
                {
                    throw new InvalidEntryException("label", $"Label {block.Label} is used twice; each block of a stage needs its own label.");
                }

                GuardReplaced(block, blocks.Select(other => other.Label));
                placed.Add(RecordedBlock.Of(block, PieceOf(pieces, block)));
            }
            catch (InvalidEntryException e)
            {
                throw e.Within($"blocks[{i}]");
            }
        }

        return placed;
    }

    /// <summary>Refuses a block that replaces one which its stage does not have.</summary>
    /// <param name="block">The block.</param>
    /// <param name="labels">The labels of its stage.</param>
    /// <exception cref="InvalidEntryException">There is none of that label.</exception>
    internal static void GuardReplaced(BlockEntry block, IEnumerable<string> labels)
    {
        if (block.Replaces?.FirstOrDefault(wanted => !labels.Any(label => Block.IsSameLabel(label, wanted))) is { } missing)
        {
            throw new InvalidEntryException("replaces", $"This stage has no block {missing}.");
        }
    }

    /// <summary>Numbers of the pieces that hold all of a region, from 1.</summary>
    internal static IReadOnlyList<int> PiecesHolding(IReadOnlyList<Piece> pieces, MarginRegion region) =>
        [.. Enumerable.Range(1, pieces.Count).Where(number => pieces[number - 1].Tissue().Contains(region))];

    private static int OnlyPieceHolding(IReadOnlyList<Piece> pieces, BlockEntry block) => PiecesHolding(pieces, block.Region()) switch
    {
        [var only] => only,
        [] => throw OffTissue(block, MarginRegion.UnionOf(pieces.Select(piece => piece.Tissue()))),
        var several => throw new InvalidEntryException(
            "piece", $"Block {block.Label} could be cut from more than one piece: {string.Join(", ", several)}. Say which one, or record a block for each."),
    };

    private static InvalidEntryException OffTissue(BlockEntry block, MarginRegion tissue) => new(
        tissue.Arcs.Contains(block.Region().Arcs) && block.Centre && !tissue.Centre ? "centre" : "arc",
        tissue.Contains(block.Region())
            ? $"Block {block.Label} lies on no single piece of this stage; record a block for each piece."
            : $"Block {block.Label} must lie on tissue taken in this stage: {tissue.InSentence()}.");
}
