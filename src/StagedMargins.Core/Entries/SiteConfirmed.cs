using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Entries;

/// <summary>Someone confirmed that the site marked on the patient is the site of the case: before the first layer of a day, or afterwards where that was missed.</summary>
/// <param name="Site">The site that was confirmed.</param>
/// <param name="Note">How, in words.</param>
public sealed record SiteConfirmed(RecordedSite Site, Words? Note) : CaseEvent
{
    /// <summary>Its kind.</summary>
    public static readonly CaseEntryKind Kind = CaseEntryKind.For<SiteConfirmed>("confirmSite", inPerson: true);

    /// <summary>Decides that a person confirms the site.</summary>
    /// <exception cref="RuleViolationException">This person has confirmed this site.</exception>
    public static SiteConfirmed Decide(SurgicalCase state, string? note, Guid byId)
    {
        if (state.SiteConfirmedBy(state.Stages is [.., var last] && state.IsSiteConfirmed() ? last.Version : 0).Contains(byId))
        {
            throw new RuleViolationException("siteConfirmedByYou", "You have already confirmed this site; a second person must confirm it too.");
        }

        return new SiteConfirmed(RecordedSite.Of(state.Facts.Site), Words.Of(FreeText.Optional("note", note)));
    }

    /// <inheritdoc/>
    public override CaseEvent DecideAgain(SurgicalCase state, Authorship written) => Decide(state, Note?.Text, written.ById);

    /// <inheritdoc/>
    public override string Sentence(SurgicalCase before, Func<Guid, string> nameOf) => Sentences.EntrySiteConfirmed(Site.Open().InWords());

    internal override SurgicalCase Apply(SurgicalCase state, Authorship written) =>
        state with { SiteConfirmations = state.SiteConfirmations.Plus(new SiteConfirmation(this, state.SiteConfirmations.Count + 1, written, state.Version + 1)) };
}
