using StagedMargins.Core.Care;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Entries;

/// <summary>A second reader was asked to read a block blind.</summary>
/// <param name="Stage">The stage of the block.</param>
/// <param name="Block">The label of the block.</param>
/// <param name="ReaderId">The surgeon who is to read it.</param>
public sealed record SecondReadAsked(int Stage, string Block, Guid ReaderId) : CaseEvent
{
    /// <summary>Its kind.</summary>
    public static readonly CaseEntryKind Kind = CaseEntryKind.For<SecondReadAsked>("askSecondRead", surgeonAlone: true);

    /// <summary>Decides that a second reader is asked.</summary>
    /// <exception cref="NotInRecordException">There is no such block.</exception>
    /// <exception cref="RuleViolationException">There is no first reading yet, the surgeon read or wrote one in the case, or was asked for this block already.</exception>
    public static SecondReadAsked Decide(SurgicalCase state, int stage, string label, Guid readerId, Guid byId)
    {
        var block = state.StageOf(stage).BlockOf(label);
        if (block.Readings.Count == 0)
        {
            throw new RuleViolationException("notReadYet", "The block has no first reading yet; ask for a second read once it has one.");
        }

        if (readerId == byId || state.Readings().Any(reading => reading.ReaderId == readerId || reading.RecordedById == readerId))
        {
            throw new RuleViolationException("notBlind", "Anyone who has read in this case, or who asks for the second read, can't be its second reader; ask another surgeon.");
        }

        return state.SecondReads.Any(read => read.StageNumber == stage && read.BlockLabel == block.Label && read.ReaderId == readerId)
            ? throw new RuleViolationException("alreadyAsked", "This surgeon has already been asked to read this block.")
            : new SecondReadAsked(stage, block.Label, readerId);
    }

    /// <inheritdoc/>
    public override CaseEvent DecideAgain(SurgicalCase state, Authorship written) => Decide(state, Stage, Block, ReaderId, written.ById);

    /// <inheritdoc/>
    public override CaseEvent WithPeople(Func<Guid, Guid> here) => this with { ReaderId = here(ReaderId) };

    /// <inheritdoc/>
    public override IEnumerable<Guid> NamedPeople() => [ReaderId];

    /// <inheritdoc/>
    public override string Sentence(SurgicalCase before, Func<Guid, string> nameOf) => Sentences.EntrySecondReadAsked(Stage, Block, nameOf(ReaderId));

    internal override SurgicalCase Apply(SurgicalCase state, Authorship written) => state with { SecondReads = state.SecondReads.Plus(new SecondRead(this, state.SecondReads.Count + 1, written)) };
}
