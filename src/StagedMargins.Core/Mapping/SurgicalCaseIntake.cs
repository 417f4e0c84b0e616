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

    /// <summary>The people who confirmed the site as it stands now.</summary>
    public IReadOnlyList<Guid> SiteConfirmedBy() =>
        [.. SiteConfirmations.Where(confirmation => confirmation.Site == Facts.Site).Select(confirmation => confirmation.ConfirmedById)];

    /// <summary>True where two different people confirmed the site as it stands now.</summary>
    public bool IsSiteConfirmed() => SiteConfirmedBy().Distinct().Count() >= SiteConfirmation.PeopleNeeded;

    /// <summary>True where the site was corrected after someone had confirmed another, and two people have not confirmed it as it stands now.</summary>
    public bool IsSiteChangedSinceConfirmed() => !IsSiteConfirmed() && SiteConfirmations.Any(confirmation => confirmation.Site != Facts.Site);
}
