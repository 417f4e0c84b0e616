using StagedMargins.Core.Intake;
using StagedMargins.Core.Risk;

namespace StagedMargins.Core.Mapping;

/// <summary>What is known of a case, its site confirmed, and the risk that follows.</summary>
public sealed partial record SurgicalCase
{
    /// <summary>What is known now: as last corrected, else as entered at intake.</summary>
    public CaseFacts Facts => FactsCorrections is [.., var last] ? last.Facts : opened!.Facts.Open();

    /// <summary>What was known before a correction.</summary>
    /// <param name="ordinal">The correction's place among the corrections, from 1.</param>
    public CaseFacts FactsBefore(int ordinal) => ordinal == 1 ? opened!.Facts.Open() : FactsCorrections[ordinal - 2].Facts;

    /// <summary>Every correction of the facts, oldest first.</summary>
    public IReadOnlyList<FactsCorrection> FactsCorrections { get; internal init; } = [];

    /// <summary>Every confirmation of the site, oldest first.</summary>
    public IReadOnlyList<SiteConfirmation> SiteConfirmations { get; internal init; } = [];

    /// <summary>Every photo of the marked site, oldest first; the last one stands for the site.</summary>
    public IReadOnlyList<SitePhoto> SitePhotos { get; internal init; } = [];

    /// <summary>What the rules said each time facts were entered, oldest first.</summary>
    public IReadOnlyList<KeptAssessment> Assessments { get; internal init; } = [];

    /// <summary>The people who confirmed the site as it stands now, of the patient and with the 12 o'clock that the case has now.</summary>
    /// <param name="afterVersion">Only those who did after this entry of the case.</param>
    public IReadOnlyList<Guid> SiteConfirmedBy(int afterVersion = 0)
    {
        var (site, since) = (Facts.Site, Math.Max(afterVersion, FactsCorrections.LastOrDefault(correction => correction.AsksConfirmationAgain)?.Version ?? 0));
        return [.. SiteConfirmations.Where(confirmation => confirmation.Version > since && confirmation.Site == site).Select(confirmation => confirmation.ConfirmedById)];
    }

    /// <summary>True where two different people confirmed the site as it stands now.</summary>
    public bool IsSiteConfirmed() => SiteConfirmedBy().Distinct().Count() >= SiteConfirmation.PeopleNeeded;

    /// <summary>
    /// True where nothing is missing for a layer: for the first of a day two different people who confirmed the site since the last layer,
    /// for a further one that no correction has asked for it again.
    /// </summary>
    internal bool IsSiteConfirmedFor(ClinicalTime takenAt) => Stages switch
    {
        [] => IsSiteConfirmed(),
        [.., var last] when DayOf(takenAt) > DayOf(last.TakenAt) => SiteConfirmedBy(last.Version).Distinct().Count() >= SiteConfirmation.PeopleNeeded,
        _ => !IsSiteChangedSinceConfirmed(),
    };

    /// <summary>True where the site, the patient or 12 o'clock was corrected after someone had confirmed, and two people have not confirmed it as it stands now.</summary>
    public bool IsSiteChangedSinceConfirmed() => !IsSiteConfirmed() && SiteConfirmations.Count > 0
        && (SiteConfirmations.Any(confirmation => confirmation.Site != Facts.Site) || FactsCorrections.Any(correction => correction.AsksConfirmationAgain));
}
