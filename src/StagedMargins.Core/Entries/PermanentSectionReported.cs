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
    /// <summary>Its kind.</summary>
    public static readonly CaseEntryKind Kind = CaseEntryKind.For<PermanentSectionReported>("reportPermanentSection", surgeonAlone: true);

    /// <summary>Decides that a result is entered.</summary>
    /// <exception cref="NotInRecordException">The block was not sent.</exception>
    /// <exception cref="InvalidEntryException">It corrects an earlier result and gives no reason, or comes before the sending.</exception>
    public static PermanentSectionReported Decide(SurgicalCase state, int stage, string label, PermanentResultEntry entry)
    {
        var sent = state.PermanentSectionOf(stage, label) ?? throw new NotInRecordException("This block was not sent for permanent section.");
        var reason = sent.Results.Count > 0 ? FreeText.Required("reason", entry.Reason) : FreeText.Optional("reason", entry.Reason);
        return entry.ReportedAt.Utc >= sent.SentAt.Utc
            ? new PermanentSectionReported(stage, label, entry.Outcome, entry.ReportedAt, Words.Of(FreeText.Optional("note", entry.Note)), Words.Of(reason))
            : throw new InvalidEntryException("reportedAt", "A result can't be reported before the block was sent.");
    }

    /// <inheritdoc/>
    public override CaseEvent DecideAgain(SurgicalCase state, Authorship written) =>
        Decide(state, Stage, Block, new PermanentResultEntry(Outcome, ReportedAt, Note?.Text, Reason?.Text));

    /// <inheritdoc/>
    public override string Sentence(SurgicalCase before, Func<Guid, string> nameOf) => Sentences.EntryPermanentResult(Stage, Block, Terms.Of(Outcome));

    internal override SurgicalCase Apply(SurgicalCase state, Authorship written) => state with
    {
        PermanentSections =
        [
            .. state.PermanentSections.Select(sent => (sent.StageNumber, sent.BlockLabel) == (Stage, Block)
                ? sent with { Results = sent.Results.Plus(new PermanentResult(this, sent.Results.Count + 1, written)) }
                : sent),
        ],
    };
}
