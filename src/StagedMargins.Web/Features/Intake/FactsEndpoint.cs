using StagedMargins.Core.Wording;
using StagedMargins.Storage.People;
using StagedMargins.Web.Contract;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Problems;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.Intake;

/// <summary>Corrections of what was entered at intake.</summary>
public static class FactsEndpoint
{
    /// <summary>Adds the route.</summary>
    public static void MapFacts(this IEndpointRouteBuilder cases) => cases
        .MapPost("/{id:guid}/facts", CorrectAsync).RequireAuthorization(Policies.RecordCase).WithTags("Intake and risk")
        .WithSummary("Corrects facts of a case: send those that change, with the reason. Earlier facts stay in the history.").Produces<CaseView>();

    private static Task<IResult> CorrectAsync(Guid id, FactsCorrectionBody body, CurrentPerson person, CaseWriter writes, CancellationToken cancel) => writes.ChangeAsync(
        id,
        person,
        body,
        change =>
        {
            if (change.Case.Stages.Count > 0 && !person.Is(Roles.Surgeon) && body.ChangesIdentity(change.Case))
            {
                throw new NotYourRoleException(Sentences.SurgeonCorrectsIdentity);
            }

            body.Correct(change, change.Clinic.SizeBoundary);
            return new WriteResult(StatusCodes.Status200OK, CaseView.Of(change.Case, change.Overlap, change.People));
        },
        cancel,
        patientRef: body.PatientRef);
}
