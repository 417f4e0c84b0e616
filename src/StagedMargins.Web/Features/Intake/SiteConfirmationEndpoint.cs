using StagedMargins.Core;
using StagedMargins.Core.Mapping;
using StagedMargins.Web.Features.Cases;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.Intake;

/// <summary>A confirmation of the site as it is taken: whoever is signed in confirms the site as the case has it.</summary>
/// <param name="Note">How it was confirmed, in words.</param>
public sealed record SiteConfirmationBody(string? Note);

/// <summary>A confirmation of the site as it is sent.</summary>
/// <param name="ConfirmedBy">Who confirmed it.</param>
/// <param name="ConfirmedAt">When.</param>
/// <param name="Site">The site that was confirmed.</param>
/// <param name="Holds">False where the site was corrected since, so that it is to be confirmed anew.</param>
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

/// <summary>Confirming the site before stage 1, by two different people in person.</summary>
public static class SiteConfirmationEndpoint
{
    /// <summary>Adds the route.</summary>
    public static void MapSiteConfirmations(this IEndpointRouteBuilder cases) => cases
        .MapPost("/{id:guid}/site-confirmations", ConfirmAsync).RequireAuthorization(Policies.RecordCase, Policies.Person).WithTags("Intake and risk")
        .WithSummary("Confirms the site before stage 1; two different people do.").Produces<SiteConfirmationView[]>(StatusCodes.Status201Created);

    private static Task<IResult> ConfirmAsync(Guid id, SiteConfirmationBody body, CurrentPerson person, CaseWrites writes, CancellationToken cancel) => writes.ChangeAsync(
        id,
        person,
        "confirmSite",
        body,
        change =>
        {
            change.Case.ConfirmSite(FreeText.Optional("note", body.Note), change.ById, change.At);
            return new Answer(StatusCodes.Status201Created, SiteConfirmationView.AllOf(change.Case, change.People), $"/api/cases/{id}");
        },
        cancel);
}
