using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Entries;

/// <summary>The last stage was withdrawn: it was never taken. Its number is free again.</summary>
/// <param name="Stage">The stage.</param>
/// <param name="Reason">Why.</param>
public sealed record StageWithdrawn(int Stage, Words Reason) : CaseEvent
{
    /// <summary>Its kind.</summary>
    public static readonly CaseEntryKind Kind = CaseEntryKind.For<StageWithdrawn>("withdrawStage", surgeonAlone: true);

    /// <summary>Decides that a stage is withdrawn.</summary>
    /// <exception cref="NotInRecordException">There is no such stage.</exception>
    /// <exception cref="RuleViolationException">A later stage stands.</exception>
    /// <exception cref="InvalidEntryException">No reason was given.</exception>
    public static StageWithdrawn Decide(SurgicalCase state, int number, string? reason)
    {
        state.StageOf(number);
        return number == state.Stages.Count
            ? new StageWithdrawn(number, Words.Of(FreeText.Required("reason", reason))!)
            : throw new RuleViolationException("notLastStage", $"Only the last stage, {state.Stages.Count}, can be withdrawn; an earlier one can be corrected.");
    }

    /// <inheritdoc/>
    public override CaseEvent DecideAgain(SurgicalCase state, Authorship written) => Decide(state, Stage, Reason.Text);

    /// <inheritdoc/>
    public override string Sentence(SurgicalCase before, Func<Guid, string> nameOf) => Sentences.EntryStageWithdrawn(Stage, Sentences.ReasonGiven(Reason.Text));

    internal override SurgicalCase Apply(SurgicalCase state, Authorship written)
    {
        var withdrawal = new Withdrawal(Reason, written);
        var stage = state.StageOf(Stage);
        return state.WithoutAwaited(Stage, [.. stage.Blocks.Select(block => block.Label)]) with
        {
            Stages = [.. state.Stages.Take(Stage - 1)],
            WithdrawnStages = state.WithdrawnStages.Plus(new WithdrawnStage(stage.WithReadingsWithdrawn(withdrawal), withdrawal)),
        };
    }
}
