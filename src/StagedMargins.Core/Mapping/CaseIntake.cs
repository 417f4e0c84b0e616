using StagedMargins.Core.Entries;
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
    /// <remarks>Margins do not follow from these facts.</remarks>
    /// <inheritdoc cref="FactsCorrected.Decide"/>
    public FactsCorrection CorrectFacts(CaseFacts facts, string? reason, SizeBoundary boundary, Guid byId, ClinicalTime at)
    {
        Write(FactsCorrected.Decide(this, facts, reason, boundary), byId, at);
        return factsCorrections[^1];
    }

    /// <summary>One person confirms, before stage 1, that the site marked on the patient is the site of the case.</summary>
    /// <inheritdoc cref="SiteConfirmed.Decide"/>
    public SiteConfirmation ConfirmSite(string? note, Guid byId, ClinicalTime at)
    {
        Write(SiteConfirmed.Decide(this, note, byId), byId, at);
        return siteConfirmations[^1];
    }

    /// <summary>The people who confirmed the site as it stands now.</summary>
    public IReadOnlyList<Guid> SiteConfirmedBy() =>
        [.. siteConfirmations.Where(confirmation => confirmation.Site == Facts.Site).Select(confirmation => confirmation.ConfirmedById)];

    /// <summary>True where two different people confirmed the site as it stands now.</summary>
    public bool IsSiteConfirmed() => SiteConfirmedBy().Distinct().Count() >= SiteConfirmation.PeopleNeeded;

    /// <summary>True where the site was corrected after someone had confirmed another, and two people have not confirmed it as it stands now.</summary>
    public bool IsSiteChangedSinceConfirmed() => !IsSiteConfirmed() && siteConfirmations.Exists(confirmation => confirmation.Site != Facts.Site);

    /// <summary>Adds a photo of the site as it is marked on the patient.</summary>
    /// <inheritdoc cref="SitePhotoAdded.Decide(SurgicalCase, BarePicture)"/>
    public SitePhoto AddSitePhoto(BarePicture picture, Guid byId, ClinicalTime at)
    {
        Write(SitePhotoAdded.Decide(this, picture), byId, at);
        return sitePhotos[^1];
    }

    internal void Add(FactsCorrection correction) => factsCorrections.Add(correction);

    internal void Add(SiteConfirmation confirmation) => siteConfirmations.Add(confirmation);

    internal void Add(SitePhoto photo) => sitePhotos.Add(photo);

    internal void Add(KeptAssessment assessment) => assessments.Add(assessment);
}
