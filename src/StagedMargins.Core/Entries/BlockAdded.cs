using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Entries;

/// <summary>A block was added to a stage.</summary>
/// <param name="Stage">The stage.</param>
/// <param name="Block">The block, with the piece it was cut from.</param>
public sealed record BlockAdded(int Stage, RecordedBlock Block) : CaseEvent
{
    /// <summary>Its kind.</summary>
    public static readonly CaseEntryKind Kind = CaseEntryKind.For<BlockAdded>("addBlock");

    /// <summary>Decides that a block is added.</summary>
    /// <exception cref="NotInRecordException">There is no such stage.</exception>
    /// <exception cref="InvalidEntryException">A part of it can't be right, or it lies off the tissue.</exception>
    /// <exception cref="RuleViolationException">The case has ended, or the stage has a block with this label.</exception>
    public static BlockAdded Decide(SurgicalCase state, int stage, BlockEntry entry)
    {
        var to = state.StageOf(stage);
        state.GuardOpen("no block can be added");
        if (to.Blocks.Count >= RecordLimits.Blocks)
        {
            throw new InvalidEntryException("label", $"A stage has at most {RecordLimits.Blocks} blocks.");
        }

        if (to.Blocks.Any(block => Core.Mapping.Block.IsSameLabel(block.Label, entry.Label)))
        {
            throw new RuleViolationException("labelTaken", $"Stage {stage} already has a block with this label; choose another.");
        }

        var block = entry.Checked();
        BlockPlacement.GuardReplaced(block, to.Blocks.Select(other => other.Label));
        return new BlockAdded(stage, RecordedBlock.Of(block, BlockPlacement.PieceOf(to.Pieces, block)));
    }

    /// <inheritdoc/>
    public override CaseEvent DecideAgain(SurgicalCase state, Authorship written) => Decide(state, Stage, Block.Open());

    /// <inheritdoc/>
    public override string Sentence(SurgicalCase before, Func<Guid, string> nameOf) => Sentences.EntryBlockAdded(Stage, Block.Label, MarginRegion.Of(Block.Arc, Block.Centre).InLabel());

    internal override SurgicalCase Apply(SurgicalCase state, Authorship written) => 
        state.With(Stage, stage => stage with { Blocks = stage.Blocks.Plus(new Block(Block, stage.Blocks.Count + 1, written)) });
}
