using StagedMargins.Core.Care;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Entries;

/// <summary>A block was sent for permanent sections.</summary>
/// <param name="Stage">The stage of the block.</param>
/// <param name="Block">The label of the block.</param>
/// <param name="SentAt">When.</param>
/// <param name="Note">A remark.</param>
public sealed record PermanentSectionSent(int Stage, string Block, ClinicalTime SentAt, Words? Note) : CaseEvent
{
    /// <summary>Its kind.</summary>
    public static readonly CaseEntryKind Kind = CaseEntryKind.For<PermanentSectionSent>("sendPermanentSection");

    /// <summary>Decides that a block is sent.</summary>
    /// <exception cref="NotInRecordException">There is no such block.</exception>
    /// <exception cref="RuleViolationException">It was sent already.</exception>
    public static PermanentSectionSent Decide(SurgicalCase state, int stage, string label, ClinicalTime sentAt, string? note)
    {
        var block = state.StageOf(stage).BlockOf(label);
        return state.PermanentSectionOf(stage, block.Label) is null
            ? new PermanentSectionSent(stage, block.Label, sentAt, Words.Of(FreeText.Optional("note", note)))
            : throw new RuleViolationException("alreadySent", "This block has already been sent for permanent section.");
    }

    /// <inheritdoc/>
    public override CaseEvent DecideAgain(SurgicalCase state, Authorship written) => Decide(state, Stage, Block, SentAt, Note?.Text);

    /// <inheritdoc/>
    public override string Sentence(SurgicalCase before, Func<Guid, string> nameOf) => Sentences.EntrySentForPermanent(Stage, Block);

    internal override SurgicalCase Apply(SurgicalCase state, Authorship written) => state with { PermanentSections = state.PermanentSections.Plus(new PermanentSection(this, state.PermanentSections.Count + 1, written)) };
}
