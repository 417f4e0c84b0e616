using StagedMargins.Core.Mapping;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Contract;

/// <summary>A confirmation of the site as it is taken: whoever is signed in confirms the site as the case has it.</summary>
/// <param name="Note">How it was confirmed, in words.</param>
public sealed record SiteConfirmationBody(string? Note);

/// <summary>A confirmation of the site as it is sent.</summary>
/// <param name="ConfirmedBy">Who confirmed it.</param>
/// <param name="ConfirmedAt">When.</param>
/// <param name="Site">The site that was confirmed.</param>
/// <param name="Holds">False where the site was corrected since, so that it must be confirmed again.</param>
/// <param name="Note">How it was confirmed.</param>
public sealed record SiteConfirmationView(string? ConfirmedBy, DateTimeOffset ConfirmedAt, SiteBody Site, bool Holds, string? Note)
{
    /// <summary>Every confirmation of a case, oldest first.</summary>
    public static SiteConfirmationView[] AllOf(SurgicalCase surgicalCase, ClinicPeople people) => [.. surgicalCase.SiteConfirmations.Select(confirmation => new SiteConfirmationView(
        people.EmailOf(confirmation.ConfirmedById),
        confirmation.ConfirmedAt.ToDateTimeOffset(),
        confirmation.Site.ToBody(),
        confirmation.Site == surgicalCase.Facts.Site,
        confirmation.Note))];
}
