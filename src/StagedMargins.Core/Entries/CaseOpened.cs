using System.Text.Json.Serialization;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Risk;
using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Entries;

/// <summary>A case was opened.</summary>
/// <param name="CaseNumber">Its number in the clinic.</param>
/// <param name="PatientId">The patient, a subject of their own.</param>
/// <param name="PatientRef">The clinic's number for the patient, as it was said.</param>
/// <param name="SurgeonId">The surgeon, where named.</param>
/// <param name="TwelveOClock">Where 12 o'clock of the map points, in words.</param>
/// <param name="Facts">What is known at intake.</param>
/// <param name="Risk">What the rules say of it.</param>
public sealed record CaseOpened(string CaseNumber, Guid PatientId, Words PatientRef, Guid? SurgeonId, Words TwelveOClock, RecordedFacts Facts, RiskAssessment Risk) : CaseEvent
{
    /// <summary>The case of which it treats the recurrence.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public Guid? FollowsCase { get; init; }

    /// <summary>Its kind.</summary>
    public static readonly CaseEntryKind Kind = CaseEntryKind.For<CaseOpened>("openCase");

    /// <summary>Decides that a case is opened.</summary>
    /// <param name="caseNumber">Its number, free in the clinic.</param>
    /// <param name="opening">What was entered.</param>
    /// <param name="boundary">The clinic's setting for exactly 2 and 4 cm.</param>
    /// <exception cref="InvalidEntryException">A required part is missing, or a part can't be right.</exception>
    public static CaseOpened Decide(string caseNumber, NewCase opening, SizeBoundary boundary)
    {
        var facts = opening.Facts.Checked();
        return new CaseOpened(
            SurgicalCase.CheckNumber(caseNumber),
            opening.PatientId,
            Words.Of(FreeText.Required("patientRef", opening.PatientRef, 64))!,
            opening.SurgeonId,
            Words.Of(FreeText.Required("twelveOClock", opening.TwelveOClock, FreeText.LongestShort))!,
            RecordedFacts.Of(facts),
            RiskAssessment.Of(facts, boundary))
        {
            FollowsCase = opening.FollowsCase,
        };
    }

    /// <summary>Decided anew, for the first entry of a record from elsewhere.</summary>
    /// <inheritdoc cref="Decide"/>
    public CaseOpened DecideAgain() => Decide(CaseNumber, new NewCase(PatientRef.Text, SurgeonId, Facts.Open(), TwelveOClock.Text, PatientId: PatientId, FollowsCase: FollowsCase), Risk.Boundary);

    /// <inheritdoc/>
    public override CaseEvent DecideAgain(SurgicalCase state, Authorship written) => throw new RuleViolationException("caseHere", "A case is opened once.");

    /// <inheritdoc/>
    public override CaseEvent WithPeople(Func<Guid, Guid> here) => this with { SurgeonId = SurgeonId is { } surgeon ? here(surgeon) : null };

    /// <inheritdoc/>
    public override IEnumerable<Guid> NamedPeople() => SurgeonId is { } surgeon ? [surgeon] : [];

    /// <inheritdoc/>
    public override string Sentence(SurgicalCase before, Func<Guid, string> nameOf) => Sentences.EntryCaseOpened(Facts.Site.Open().InWords(), Facts.Tumour.InWords());

    internal override SurgicalCase Apply(SurgicalCase state, Authorship written) => state.OpenedBy(this, written);
}
