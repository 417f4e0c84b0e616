using StagedMargins.Core;
using StagedMargins.Web.Contract;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.Intake;

/// <summary>Confirming the site before stage 1, by two different people in person.</summary>
public static class SiteConfirmationEndpoint
{
    /// <summary>Adds the route.</summary>
    public static void MapSiteConfirmations(this IEndpointRouteBuilder cases) => cases
        .MapPost("/{id:guid}/site-confirmations", ConfirmAsync).RequireAuthorization(Policies.RecordCase, Policies.Person).WithTags("Intake and risk")
        .WithSummary("Confirms the site before stage 1; two different people must.").Produces<SiteConfirmationView[]>(StatusCodes.Status201Created);

    private static Task<IResult> ConfirmAsync(Guid id, SiteConfirmationBody body, CurrentPerson person, CaseWriter writes, CancellationToken cancel) => writes.ChangeAsync(
        id,
        person,
        body,
        change =>
        {
            change.Log.ConfirmSite(FreeText.Optional("note", body.Note), change.ById, change.At);
            return new WriteResult(StatusCodes.Status201Created, SiteConfirmationView.AllOf(change.Case, change.People), $"/api/cases/{id}");
        },
        cancel);
}
