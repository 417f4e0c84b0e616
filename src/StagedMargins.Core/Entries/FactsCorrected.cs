using System.Text.Json.Serialization;
using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Risk;
using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Entries;

/// <summary>Who and where a case is about, as it is corrected; what is null stays.</summary>
/// <param name="PatientId">The patient, once they were found or added.</param>
/// <param name="PatientRef">The clinic's number for the patient.</param>
/// <param name="SurgeonId">The surgeon.</param>
/// <param name="TwelveOClock">Where 12 o'clock of the map points, in words.</param>
public sealed record IdentityCorrection(Guid? PatientId = null, string? PatientRef = null, Guid? SurgeonId = null, string? TwelveOClock = null);

/// <summary>The facts of a case were entered anew.</summary>
/// <param name="Facts">All of them as they are known now.</param>
/// <param name="Reason">Why.</param>
/// <param name="Risk">What the rules say of them.</param>
public sealed record FactsCorrected(RecordedFacts Facts, Words Reason, RiskAssessment Risk) : CaseEvent
{
    /// <summary>The patient that the case is about after all.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public Guid? PatientId { get; init; }

    /// <summary>The clinic's number for that patient, as it was said.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public Words? PatientRef { get; init; }

    /// <summary>The surgeon after all.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public Guid? SurgeonId { get; init; }

    /// <summary>Where 12 o'clock points after all.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public Words? TwelveOClock { get; init; }

    /// <summary>Its kind.</summary>
    public static readonly CaseEntryKind Kind = CaseEntryKind.For<FactsCorrected>("correctFacts");

    /// <summary>Decides that facts are corrected. A case that has ended takes it too, for a correction is an amendment.</summary>
    /// <param name="state">The case.</param>
    /// <param name="facts">All facts as they are known now.</param>
    /// <param name="reason">Why; required.</param>
    /// <param name="boundary">The clinic's setting for exactly 2 and 4 cm.</param>
    /// <param name="identity">Who and where it is about, where that is corrected.</param>
    /// <exception cref="InvalidEntryException">No reason was given, or a fact can't be right.</exception>
    public static FactsCorrected Decide(SurgicalCase state, CaseFacts facts, string? reason, SizeBoundary boundary, IdentityCorrection? identity = null)
    {
        var checkedFacts = facts.Checked();
        return new FactsCorrected(RecordedFacts.Of(checkedFacts), Words.Of(FreeText.Required("reason", reason))!, RiskAssessment.Of(state, checkedFacts, boundary))
        {
            PatientId = identity?.PatientId,
            PatientRef = identity?.PatientRef is { } patient ? Words.Of(FreeText.Required("patientRef", patient, 64)) : null,
            SurgeonId = identity?.SurgeonId,
            TwelveOClock = identity?.TwelveOClock is { } twelve ? Words.Of(FreeText.Required("twelveOClock", twelve, FreeText.LongestShort)) : null,
        };
    }

    /// <inheritdoc/>
    public override CaseEvent DecideAgain(SurgicalCase state, Authorship written) => 
        Decide(state, Facts.Open(), Reason.Text, Risk.Boundary, new IdentityCorrection(PatientId, PatientRef?.Text, SurgeonId, TwelveOClock?.Text));

    /// <inheritdoc/>
    public override CaseEvent WithPeople(Func<Guid, Guid> here) => SurgeonId is { } surgeon ? this with { SurgeonId = here(surgeon) } : this;

    /// <inheritdoc/>
    public override IEnumerable<Guid> NamedPeople() => SurgeonId is { } surgeon ? [surgeon] : [];

    /// <inheritdoc/>
    public override string Sentence(SurgicalCase before, Func<Guid, string> nameOf) => Sentences.EntryFacts(Sentences.ReasonGiven(Reason.Text));

    internal override SurgicalCase Apply(SurgicalCase state, Authorship written) => state with
    {
        FactsCorrections = state.FactsCorrections.Plus(new FactsCorrection(this, state.FactsCorrections.Count + 1, written, state.Version + 1)),
        Assessments = state.Assessments.Plus(new KeptAssessment(state.Assessments.Count + 1, Risk, written.At)),
    };
}
