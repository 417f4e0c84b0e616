using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Entries;

/// <summary>A case was ended, or paused until another day.</summary>
/// <param name="Outcome">How.</param>
/// <param name="EndedAt">When.</param>
/// <param name="Reason">Why.</param>
/// <param name="Plan">What follows.</param>
/// <param name="ContinuesOn">The day it continues.</param>
/// <param name="Repair">How the wound is closed.</param>
/// <param name="Measured">The wound as it was measured.</param>
public sealed record CaseEnded(
    CaseOutcome Outcome, ClinicalTime EndedAt, Words? Reason, Words? Plan, DateOnly? ContinuesOn, RepairKind? Repair, DefectMeasured? Measured) : CaseEvent
{
    /// <summary>Its kind.</summary>
    public static readonly CaseEntryKind Kind = CaseEntryKind.For<CaseEnded>("endCase", surgeonAlone: true);

    /// <summary>Decides that a case ends.</summary>
    /// <exception cref="InvalidEntryException">A part of it can't be right.</exception>
    /// <exception cref="RuleViolationException">It has ended, or can't end in this way now.</exception>
    public static CaseEnded Decide(SurgicalCase state, EndingEntry entry, MeasuredDefectEntry? measured)
    {
        state.GuardOpen("it can't be ended again");
        EndingRule.Guard(state, entry);
        var isStopped = entry.Outcome is CaseOutcome.StoppedWithTumour or CaseOutcome.StoppedNotCleared;
        var ended = new CaseEnded(
            entry.Outcome,
            entry.EndedAt,
            Words.Of(isStopped || entry.Outcome == CaseOutcome.NotDone ? FreeText.Required("reason", entry.Reason) : FreeText.Optional("reason", entry.Reason)),
            Words.Of(isStopped ? FreeText.Required("plan", entry.Plan) : FreeText.Optional("plan", entry.Plan)),
            entry.ContinuesOn,
            entry.Repair,
            null);
        return ended with { Measured = measured is null ? null : MeasuredOf(state, measured) };
    }

    /// <inheritdoc/>
    public override CaseEvent DecideAgain(SurgicalCase state, Authorship written) =>
        Decide(state, new EndingEntry(Outcome, EndedAt, Reason?.Text, Plan?.Text, ContinuesOn, Repair), Measured?.ToEntry());

    /// <inheritdoc/>
    public override string Sentence(SurgicalCase before, Func<Guid, string> nameOf) =>
        new Ending(this, default).InWords() + (Reason is { } reason ? $". {Sentences.ReasonGiven(reason.Text)}" : ".");

    internal override SurgicalCase Apply(SurgicalCase state, Authorship written)
    {
        var (measured, ending) = (Measured?.Apply(state, written) ?? state, new Ending(this, written));
        return Outcome == CaseOutcome.ContinuesLater ? measured with { Pause = ending } : measured with { Endings = measured.Endings.Plus(ending), Pause = null };
    }

    private static DefectMeasured MeasuredOf(SurgicalCase state, MeasuredDefectEntry measured)
    {
        try
        {
            return DefectMeasured.Decide(state, measured);
        }
        catch (InvalidEntryException e)
        {
            throw e.Within("measuredDefect");
        }
    }
}
