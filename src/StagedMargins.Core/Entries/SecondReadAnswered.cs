using System.Text.Json.Serialization;
using StagedMargins.Core.Care;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Entries;

/// <summary>A second reader said what they saw.</summary>
/// <param name="Number">The number of the second read.</param>
/// <param name="Outcome">The result.</param>
/// <param name="Note">A remark.</param>
public sealed record SecondReadAnswered(int Number, ReadingOutcome Outcome, Words? Note) : CaseEvent
{
    /// <summary>What was seen, on the patient's clock face, where places were named.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public IReadOnlyList<Finding>? Findings { get; init; }

    /// <summary>Its kind.</summary>
    public static readonly CaseEntryKind Kind = CaseEntryKind.For<SecondReadAnswered>("answerSecondRead", surgeonAlone: true);

    /// <summary>Decides that a second read is given.</summary>
    /// <exception cref="NotInRecordException">There is no such second read.</exception>
    /// <exception cref="RuleViolationException">Someone else was asked, or it is in already.</exception>
    public static SecondReadAnswered Decide(SurgicalCase state, int number, ReadingOutcome outcome, IReadOnlyList<FindingEntry> findings, string? note, Guid byId)
    {
        var asked = GuardReader(state, number, byId);
        var stage = state.StageOf(asked.StageNumber);
        var placed = FindingPlacement.PlaceEvidence(stage, stage.BlockOf(asked.BlockLabel), outcome, findings);
        return new SecondReadAnswered(number, outcome, Words.Of(FreeText.Optional("note", note))) { Findings = placed.Count == 0 ? null : placed };
    }

    /// <inheritdoc/>
    public override CaseEvent DecideAgain(SurgicalCase state, Authorship written) => Decide(state, Number, Outcome, Findings is null ? [] : [.. Findings.Select(finding => finding.ToEntry())], Note?.Text, written.ById);

    /// <inheritdoc/>
    public override string Sentence(SurgicalCase before, Func<Guid, string> nameOf) =>
        before.SecondReads[Number - 1] is var asked ? Sentences.EntrySecondRead(asked.StageNumber, asked.BlockLabel, Terms.Of(Outcome)) : "";

    internal override SurgicalCase Apply(SurgicalCase state, Authorship written) =>
        AnsweredBy(state, Number, new SecondReadAnswer(Outcome, Note, written.At)) is var after && after.SecondReads[Number - 1] is var asked
            ? after.WithEvidence(asked.StageNumber, asked.BlockLabel, new BlockEvidence(EvidenceSource.SecondRead, Number, Outcome, Findings ?? [], state.Version + 1))
            : state;

    internal static SurgicalCase AnsweredBy(SurgicalCase state, int number, SecondReadAnswer answer) =>
        state with { SecondReads = state.SecondReads.Replace(number - 1, read => read with { Answer = answer }) };

    /// <summary>Refuses anyone but the reader who was asked, and a second answer.</summary>
    internal static SecondRead GuardReader(SurgicalCase state, int number, Guid byId)
    {
        var asked = state.SecondReads.FirstOrDefault(read => read.Number == number && !read.IsVoid) ?? throw new NotInRecordException("The case has no such second read.");
        if (asked.ReaderId != byId)
        {
            throw new RuleViolationException("notTheReader", "Only the surgeon who was asked can give this second read.");
        }

        if (asked.Answer is not null)
        {
            throw new RuleViolationException("alreadyRead", "This second read has already been given and can't be changed.");
        }

        return asked;
    }
}

/// <summary>A second reader gave the task back unread.</summary>
/// <param name="Number">The number of the second read.</param>
/// <param name="Reason">Why.</param>
public sealed record SecondReadGivenBack(int Number, Words Reason) : CaseEvent
{
    /// <summary>Its kind.</summary>
    public static readonly CaseEntryKind Kind = CaseEntryKind.For<SecondReadGivenBack>("giveBackSecondRead", surgeonAlone: true);

    /// <summary>Decides that a second read is given back.</summary>
    /// <exception cref="NotInRecordException">There is no such second read.</exception>
    /// <exception cref="RuleViolationException">Someone else was asked, or it is in already.</exception>
    /// <exception cref="InvalidEntryException">No reason was given.</exception>
    public static SecondReadGivenBack Decide(SurgicalCase state, int number, string? reason, Guid byId)
    {
        SecondReadAnswered.GuardReader(state, number, byId);
        return new SecondReadGivenBack(number, Words.Of(FreeText.Required("reason", reason))!);
    }

    /// <inheritdoc/>
    public override CaseEvent DecideAgain(SurgicalCase state, Authorship written) => Decide(state, Number, Reason.Text, written.ById);

    /// <inheritdoc/>
    public override string Sentence(SurgicalCase before, Func<Guid, string> nameOf) =>
        before.SecondReads[Number - 1] is var asked ? Sentences.EntrySecondReadGivenBack(asked.StageNumber, asked.BlockLabel, Sentences.ReasonGiven(Reason.Text)) : "";

    internal override SurgicalCase Apply(SurgicalCase state, Authorship written) =>
        SecondReadAnswered.AnsweredBy(state, Number, new SecondReadAnswer(null, Reason, written.At));
}
