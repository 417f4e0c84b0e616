using System.Text.Json.Serialization;
using StagedMargins.Core.Care;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Entries;

/// <summary>The permanent sections of a block were reported.</summary>
/// <param name="Stage">The stage of the block.</param>
/// <param name="Block">The label of the block.</param>
/// <param name="Outcome">What they showed.</param>
/// <param name="ReportedAt">When.</param>
/// <param name="Note">A remark.</param>
/// <param name="Reason">Why it corrects an earlier result, where it does.</param>
public sealed record PermanentSectionReported(int Stage, string Block, ReadingOutcome Outcome, ClinicalTime ReportedAt, Words? Note, Words? Reason) : CaseEvent
{
    /// <summary>What was seen, on the patient's clock face, where places were named.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public IReadOnlyList<Finding>? Findings { get; init; }

    /// <summary>Who reported it.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public Words? ReportedBy { get; init; }

    /// <summary>The laboratory.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public Words? Laboratory { get; init; }

    /// <summary>Its kind.</summary>
    public static readonly CaseEntryKind Kind = CaseEntryKind.For<PermanentSectionReported>("reportPermanentSection", surgeonAlone: true);

    /// <summary>Decides that a result is entered.</summary>
    /// <exception cref="NotInRecordException">The block was not sent.</exception>
    /// <exception cref="InvalidEntryException">It corrects an earlier result and gives no reason, or comes before the sending.</exception>
    public static PermanentSectionReported Decide(SurgicalCase state, int stage, string label, PermanentResultEntry entry)
    {
        var sent = state.PermanentSectionOf(stage, label) ?? throw new NotInRecordException("This block was not sent for permanent section.");
        var reason = sent.Results.Count > 0 ? FreeText.Required("reason", entry.Reason) : FreeText.Optional("reason", entry.Reason);
        var findings = FindingPlacement.PlaceEvidence(state.StageOf(stage), state.StageOf(stage).BlockOf(label), entry.Outcome, entry.Findings ?? []);
        return entry.ReportedAt.Utc >= sent.SentAt.Utc
            ? new PermanentSectionReported(stage, label, entry.Outcome, entry.ReportedAt, Words.Of(FreeText.Optional("note", entry.Note)), Words.Of(reason))
            {
                Findings = findings.Count == 0 ? null : findings,
                ReportedBy = Words.Of(FreeText.Optional("reportedBy", entry.ReportedBy, FreeText.LongestShort)),
                Laboratory = Words.Of(FreeText.Optional("laboratory", entry.Laboratory, FreeText.LongestShort)),
            }
            : throw new InvalidEntryException("reportedAt", "A result can't be reported before the block was sent.");
    }

    /// <inheritdoc/>
    public override CaseEvent DecideAgain(SurgicalCase state, Authorship written) =>
        Decide(state, Stage, Block, new PermanentResultEntry(Outcome, ReportedAt, Note?.Text, Reason?.Text, Findings is null ? null : [.. Findings.Select(finding => finding.ToEntry())], ReportedBy?.Text, Laboratory?.Text));

    /// <inheritdoc/>
    public override string Sentence(SurgicalCase before, Func<Guid, string> nameOf) => Sentences.EntryPermanentResult(Stage, Block, Terms.Of(Outcome));

    internal override SurgicalCase Apply(SurgicalCase state, Authorship written) => state.WithEvidence(Stage, Block, new BlockEvidence(EvidenceSource.PermanentSection, 0, Outcome, Findings ?? [], state.Version + 1)) with
    {
        PermanentSections =
        [
            .. state.PermanentSections.Select(sent => !sent.IsVoid && (sent.StageNumber, sent.BlockLabel) == (Stage, Block)
                ? sent with { Results = sent.Results.Plus(new PermanentResult(this, sent.Results.Count + 1, written)) }
                : sent),
        ],
    };
}
