using StagedMargins.Core;
using StagedMargins.Storage;
using StagedMargins.Storage.Cases;
using StagedMargins.Web.Contract;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.Anaesthetic;

/// <summary>The local anaesthetic of a case.</summary>
public static class AnaestheticEndpoints
{
    /// <summary>Adds the routes.</summary>
    public static void MapAnaesthetic(this IEndpointRouteBuilder cases)
    {
        var group = cases.MapGroup("/{id:guid}/anaesthetic").WithTags("Anaesthetic").RequireAuthorization(Policies.SeeCase);
        group.MapPost("", GiveAsync).RequireAuthorization(Policies.RecordCase)
            .WithSummary("Enters a dose that was given and answers with the total. No dose is refused for being too high.").Produces<AnaestheticView>(StatusCodes.Status201Created);
        group.MapGet("", GetAsync)
            .WithSummary("The doses of a case and their total against the label maximum.").Produces<AnaestheticView>();
        group.MapPost("/{number:int}/void", VoidAsync).RequireAuthorization(Policies.Surgeon)
            .WithSummary("Voids a dose that was entered by mistake; enter the right one as a new dose.").Produces<AnaestheticView>();
    }

    private static Task<IResult> GiveAsync(Guid id, DoseBody body, CurrentPerson person, CaseWriter writes, CancellationToken cancel) => writes.ChangeAsync(
        id,
        person,
        body,
        change =>
        {
            change.Log.RecordDose(body.ToEntry(change.At), change.ById, change.At);
            return new WriteResult(StatusCodes.Status201Created, AnaestheticView.Of(change.Case, change.People), $"/api/cases/{id}/anaesthetic");
        },
        cancel);

    private static async Task<IResult> GetAsync(Guid id, CurrentPerson person, ClinicContext db, CancellationToken cancel)
    {
        var found = await db.FindCaseAsync(id, cancel) ?? throw new NotInRecordException("Case not found.");
        return Results.Ok(AnaestheticView.Of(found, await ClinicPeople.LoadAsync(db, person.ClinicId, cancel)));
    }

    private static Task<IResult> VoidAsync(Guid id, int number, VoidBody body, CurrentPerson person, CaseWriter writes, CancellationToken cancel) => writes.ChangeAsync(
        id,
        person,
        body,
        change =>
        {
            change.Log.VoidDose(number, body.Reason, change.ById, change.At);
            return new WriteResult(StatusCodes.Status200OK, AnaestheticView.Of(change.Case, change.People));
        },
        cancel);
}
