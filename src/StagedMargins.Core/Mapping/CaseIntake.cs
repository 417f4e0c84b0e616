using StagedMargins.Core.Intake;
using StagedMargins.Core.Risk;

namespace StagedMargins.Core.Mapping;

/// <summary>What is known of a case, its site confirmed, and the risk that follows.</summary>
public sealed partial class SurgicalCase
{
    private CaseFacts openingFacts;
    private readonly List<FactsCorrection> factsCorrections = [];
    private readonly List<SiteConfirmation> siteConfirmations = [];
    private readonly List<SitePhoto> sitePhotos = [];
    private readonly List<KeptAssessment> assessments = [];

    /// <summary>What is known now: as last corrected, else as entered at intake.</summary>
    public CaseFacts Facts => factsCorrections is [.., var last] ? last.Facts : openingFacts;

    /// <summary>What was known before a correction.</summary>
    /// <param name="ordinal">The correction's place among the corrections, from 1.</param>
    public CaseFacts FactsBefore(int ordinal) => ordinal == 1 ? openingFacts : factsCorrections[ordinal - 2].Facts;

    /// <summary>Every correction of the facts, oldest first.</summary>
    public IReadOnlyList<FactsCorrection> FactsCorrections => factsCorrections;

    /// <summary>Every confirmation of the site, oldest first.</summary>
    public IReadOnlyList<SiteConfirmation> SiteConfirmations => siteConfirmations;

    /// <summary>Every photo of the marked site, oldest first; the last one stands for the site.</summary>
    public IReadOnlyList<SitePhoto> SitePhotos => sitePhotos;

    /// <summary>What the rules said each time facts were entered, oldest first.</summary>
    public IReadOnlyList<KeptAssessment> Assessments => assessments;

    /// <summary>Enters the facts anew.</summary>
    /// <param name="facts">All of them as they are known now.</param>
    /// <param name="reason">Why; required.</param>
    /// <param name="boundary">The clinic's setting for exactly 2 and 4 cm.</param>
    /// <param name="byId">By whom.</param>
    /// <param name="at">When.</param>
    /// <exception cref="InvalidEntryException">No reason was given.</exception>
    /// <remarks>A closed case takes it too, for a correction is an amendment. Margins do not follow from these facts.</remarks>
    public FactsCorrection CorrectFacts(CaseFacts facts, string? reason, SizeBoundary boundary, Guid byId, ClinicalTime at)
    {
        var correction = new FactsCorrection(factsCorrections.Count + 1, facts, reason, byId, at);
        factsCorrections.Add(correction);
        Assess(boundary, at);
        UpdateHead();
        return correction;
    }

    /// <summary>Keeps what the rules say now.</summary>
    public void Assess(SizeBoundary boundary, ClinicalTime at) =>
        assessments.Add(new KeptAssessment(assessments.Count + 1, RiskAssessment.Of(this, boundary), at));

    /// <summary>One person confirms, before stage 1, that the site marked on the patient is the site of the case.</summary>
    /// <exception cref="RuleViolationException">A layer was taken, the case has ended, or this person has confirmed this site.</exception>
    public SiteConfirmation ConfirmSite(string? note, Guid byId, ClinicalTime at)
    {
        GuardOpen("its site can't be confirmed");
        if (stages.Count > 0)
        {
            throw new RuleViolationException("siteConfirmedTooLate", "Stage 1 has been recorded. The site must be confirmed before the first layer; confirmations after stage 1 don't count.");
        }

        if (SiteConfirmedBy().Contains(byId))
        {
            throw new RuleViolationException("siteConfirmedByYou", "You have already confirmed this site; a second person must confirm it too.");
        }

        var confirmation = new SiteConfirmation(siteConfirmations.Count + 1, Facts.Site, note, byId, at);
        siteConfirmations.Add(confirmation);
        UpdateHead();
        return confirmation;
    }

    /// <summary>The people who confirmed the site as it stands now.</summary>
    public IReadOnlyList<Guid> SiteConfirmedBy() =>
        [.. siteConfirmations.Where(confirmation => confirmation.Site == Facts.Site).Select(confirmation => confirmation.ConfirmedById)];

    /// <summary>True where two different people confirmed the site as it stands now.</summary>
    public bool IsSiteConfirmed() => SiteConfirmedBy().Distinct().Count() >= SiteConfirmation.PeopleNeeded;

    /// <summary>Adds a photo of the site as it is marked on the patient.</summary>
    /// <exception cref="RuleViolationException">The case has ended.</exception>
    /// <exception cref="InvalidEntryException">The case has as many as it can have.</exception>
    public SitePhoto AddSitePhoto(BarePicture picture, Guid byId, ClinicalTime at)
    {
        GuardOpen("no photo of its site can be added");
        GuardEntryLimit("photo", sitePhotos.Count, RecordLimits.SitePhotos);
        var photo = new SitePhoto(sitePhotos.Count + 1, Facts.Site, picture, byId, at);
        sitePhotos.Add(photo);
        UpdateHead();
        return photo;
    }

    // What is said of a layer at once: of the margins, and before stage 1 of the site. Wrong-site surgery is the worst of this field
    // and does not show on any margin.
    private IReadOnlyList<MarginAlert> AlertsFor(Layer layer, CaseMargins after) => stages.Count > 0 || IsSiteConfirmed()
        ? after.Alerts
        : [new MarginAlert(AlertCode.SiteNotConfirmed, null, MarginRegion.None, layer.ReasonForUnconfirmedSite), .. after.Alerts];
}
