using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Entries;

/// <summary>An ended case was opened again, for the same wound.</summary>
/// <param name="Reason">Why.</param>
public sealed record CaseReopened(Words Reason) : CaseEvent
{
    /// <summary>Its kind.</summary>
    public static readonly CaseEntryKind Kind = CaseEntryKind.For<CaseReopened>("reopenCase", surgeonAlone: true);

    /// <summary>Decides that a case is opened again.</summary>
    /// <exception cref="RuleViolationException">It has not ended.</exception>
    /// <exception cref="InvalidEntryException">No reason was given.</exception>
    public static CaseReopened Decide(SurgicalCase state, string? reason) => state.Ending is null
        ? throw new RuleViolationException("caseOpen", "The case has not ended, so it can't be reopened.")
        : new CaseReopened(Words.Of(FreeText.Required("reason", reason))!);

    /// <inheritdoc/>
    public override CaseEvent DecideAgain(SurgicalCase state, Authorship written) => Decide(state, Reason.Text);

    /// <inheritdoc/>
    public override string Sentence(SurgicalCase before, Func<Guid, string> nameOf) => Sentences.EntryReopened(Sentences.ReasonGiven(Reason.Text));

    internal override SurgicalCase Apply(SurgicalCase state, Authorship written) => state with
    {
        Endings = state.Endings.Replace(state.Endings.Count - 1, ending => ending with { Reopened = new Withdrawal(Reason, written) }),
    };
}
