using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Risk;
using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Entries;

/// <summary>The facts of a case were entered anew.</summary>
/// <param name="Facts">All of them as they are known now.</param>
/// <param name="Reason">Why.</param>
/// <param name="Risk">What the rules say of them.</param>
public sealed record FactsCorrected(RecordedFacts Facts, Words Reason, RiskAssessment Risk) : CaseEvent
{
    /// <summary>Its kind.</summary>
    public static readonly CaseEntryKind Kind = CaseEntryKind.For<FactsCorrected>("correctFacts");

    /// <summary>Decides that facts are corrected. A case that has ended takes it too, for a correction is an amendment.</summary>
    /// <param name="state">The case.</param>
    /// <param name="facts">All facts as they are known now.</param>
    /// <param name="reason">Why; required.</param>
    /// <param name="boundary">The clinic's setting for exactly 2 and 4 cm.</param>
    /// <exception cref="InvalidEntryException">No reason was given, or a fact can't be right.</exception>
    public static FactsCorrected Decide(SurgicalCase state, CaseFacts facts, string? reason, SizeBoundary boundary)
    {
        var checkedFacts = facts.Checked();
        return new FactsCorrected(RecordedFacts.Of(checkedFacts), Words.Of(FreeText.Required("reason", reason))!, RiskAssessment.Of(state, checkedFacts, boundary));
    }

    /// <inheritdoc/>
    public override CaseEvent DecideAgain(SurgicalCase state, Authorship written) => Decide(state, Facts.Open(), Reason.Text, Risk.Boundary);

    /// <inheritdoc/>
    public override string Sentence(SurgicalCase before, Func<Guid, string> nameOf) => Sentences.EntryFacts(Sentences.ReasonGiven(Reason.Text));

    internal override SurgicalCase Apply(SurgicalCase state, Authorship written) => state with
    {
        FactsCorrections = state.FactsCorrections.Plus(new FactsCorrection(this, state.FactsCorrections.Count + 1, written)),
        Assessments = state.Assessments.Plus(new KeptAssessment(state.Assessments.Count + 1, Risk, written.At)),
    };
}
