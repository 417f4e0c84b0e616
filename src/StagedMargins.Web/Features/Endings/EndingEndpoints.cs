using StagedMargins.Web.Contract;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.Endings;

/// <summary>The end of a case and the measured wound.</summary>
public static class EndingEndpoints
{
    /// <summary>Adds the routes.</summary>
    public static void MapEndings(this IEndpointRouteBuilder cases)
    {
        var group = cases.MapGroup("/{id:guid}").WithTags("Ending").RequireAuthorization(Policies.Surgeon);
        group.MapPost("/end", EndAsync)
            .WithSummary("Ends a case; as cleared only if nothing is outstanding, unread or unsigned.").Produces<CaseView>();
        group.MapPost("/measured-defect", MeasureAsync)
            .WithSummary("Enters the measured defect; a correction is a new entry with its reason.").Produces<CaseView>();
    }

    private static Task<IResult> EndAsync(Guid id, EndBody body, CurrentPerson person, CaseWriter writes, CancellationToken cancel) => writes.ChangeAsync(
        id,
        person,
        body,
        change =>
        {
            body.End(change);
            return Whole(change);
        },
        cancel);

    private static Task<IResult> MeasureAsync(Guid id, MeasuredDefectBody body, CurrentPerson person, CaseWriter writes, CancellationToken cancel)
    {
        var entry = body.ToEntry();
        return writes.ChangeAsync(
            id,
            person,
            body,
            change =>
            {
                change.Log.Measure(entry, change.ById, change.At);
                return Whole(change);
            },
            cancel);
    }

    private static WriteResult Whole(Change change) =>
        new(StatusCodes.Status200OK, CaseView.Of(change.Case, change.Overlap, change.People));
}
