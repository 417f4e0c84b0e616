using StagedMargins.Core.Care;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Entries;

/// <summary>A dose turned out to have been entered wrongly.</summary>
/// <param name="Dose">The number of the dose.</param>
/// <param name="Reason">Why it is void.</param>
public sealed record AnaestheticVoided(int Dose, Words Reason) : CaseEvent
{
    /// <summary>Its kind.</summary>
    public static readonly CaseEntryKind Kind = CaseEntryKind.For<AnaestheticVoided>("voidAnaesthetic", surgeonAlone: true);

    /// <summary>Decides that a dose is void.</summary>
    /// <exception cref="NotInRecordException">There is no such dose.</exception>
    /// <exception cref="RuleViolationException">It is void already.</exception>
    /// <exception cref="InvalidEntryException">No reason was given.</exception>
    public static AnaestheticVoided Decide(SurgicalCase state, int number, string? reason)
    {
        var dose = state.Doses.FirstOrDefault(given => given.Number == number) ?? throw new NotInRecordException("The case has no such dose.");
        return dose.Void is null
            ? new AnaestheticVoided(number, Words.Of(FreeText.Required("reason", reason))!)
            : throw new RuleViolationException("alreadyVoid", $"Dose {number} is already void.");
    }

    /// <inheritdoc/>
    public override CaseEvent DecideAgain(SurgicalCase state, Authorship written) => Decide(state, Dose, Reason.Text);

    /// <inheritdoc/>
    public override string Sentence(SurgicalCase before, Func<Guid, string> nameOf) => Sentences.EntryDoseVoided(Dose, Sentences.ReasonGiven(Reason.Text));

    internal override SurgicalCase Apply(SurgicalCase state, Authorship written) => state with { Doses = state.Doses.Replace(Dose - 1, dose => dose with { Void = new DoseVoid(Reason, written) }) };
}
