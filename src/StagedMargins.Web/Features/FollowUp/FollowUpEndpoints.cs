using StagedMargins.Core;
using StagedMargins.Storage;
using StagedMargins.Storage.Cases;
using StagedMargins.Web.Contract;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.FollowUp;

/// <summary>Repair and visits of a case.</summary>
public static class FollowUpEndpoints
{
    /// <summary>Adds the routes.</summary>
    public static void MapFollowUp(this IEndpointRouteBuilder cases)
    {
        var group = cases.MapGroup("/{id:guid}").WithTags("Follow-up").RequireAuthorization(Policies.Surgeon);
        group.MapPost("/repair", RepairAsync)
            .WithSummary("Enters how and when the wound was repaired; a correction is a new entry with its reason.").Produces<RepairView>(StatusCodes.Status201Created);
        group.MapPost("/visits", VisitAsync)
            .WithSummary("Enters a visit after surgery, or the correction of one with its reason.").Produces<VisitView>(StatusCodes.Status201Created);
        cases.MapGet("/{id:guid}/visits", VisitsAsync).WithTags("Follow-up").RequireAuthorization(Policies.SeeCase)
            .WithSummary("The visits of a case, in order of entry.").Produces<VisitView[]>();
    }

    private static Task<IResult> RepairAsync(Guid id, RepairBody body, CurrentPerson person, CaseWriter writes, CancellationToken cancel)
    {
        var entry = body.ToEntry();
        return writes.ChangeAsync(
            id,
            person,
            body,
            change =>
            {
                change.Log.RecordRepair(entry, change.ById, change.At);
                return new WriteResult(StatusCodes.Status201Created, RepairView.Of(change.Case, change.People)!, $"/api/cases/{id}");
            },
            cancel);
    }

    private static Task<IResult> VisitAsync(Guid id, VisitBody body, CurrentPerson person, CaseWriter writes, CancellationToken cancel)
    {
        var entry = body.ToEntry();
        return writes.ChangeAsync(
            id,
            person,
            body,
            change =>
            {
                var visit = change.Log.RecordVisit(entry, change.ById, change.At);
                return new WriteResult(StatusCodes.Status201Created, VisitView.Of(change.Case, visit, change.People), $"/api/cases/{id}/visits");
            },
            cancel);
    }

    private static async Task<IResult> VisitsAsync(Guid id, CurrentPerson person, ClinicContext db, CancellationToken cancel)
    {
        var found = await db.FindCaseAsync(id, cancel) ?? throw new NotInRecordException("Case not found.");
        return Results.Ok(VisitView.AllOf(found, await ClinicPeople.LoadAsync(db, person.ClinicId, cancel)));
    }
}
