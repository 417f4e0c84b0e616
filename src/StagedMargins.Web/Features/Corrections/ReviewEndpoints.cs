using StagedMargins.Core;
using StagedMargins.Core.Mapping;
using StagedMargins.Storage;
using StagedMargins.Storage.Cases;
using StagedMargins.Web.Contract;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.Corrections;

/// <summary>Reviews: questions that evidence raised and that a surgeon has to answer.</summary>
public static class ReviewEndpoints
{
    /// <summary>Adds the routes.</summary>
    public static void MapReviews(this IEndpointRouteBuilder cases)
    {
        var group = cases.MapGroup("/{id:guid}/reviews").WithTags("Reviews");
        group.MapGet("", ListAsync).RequireAuthorization(Policies.SeeCase).WithSummary("Every review of a case, answered ones too.").Produces<ReviewView[]>();
        group.MapPost("/{reviewId:guid}/resolution", AnswerAsync).RequireAuthorization(Policies.Surgeon).RequireAuthorization(Policies.Person)
            .WithSummary("Answers a review. The answer stays in the record.").Produces<ReviewView>();
    }

    private static async Task<IResult> ListAsync(Guid id, CurrentPerson person, ClinicContext db, HttpContext http, CancellationToken cancel)
    {
        var found = await db.FindCaseAsync(id, cancel) ?? throw new NotInRecordException("Case not found.");
        var people = await ClinicPeople.LoadAsync(db, person.ClinicId, cancel);
        http.Response.Headers.ETag = ETags.Of(found.Version);
        return Results.Ok(found.Reviews.Select(review => ReviewView.Of(review, people)).ToArray());
    }

    private static Task<IResult> AnswerAsync(Guid id, Guid reviewId, ReviewAnswerBody body, CurrentPerson person, CaseWriter writes, CancellationToken cancel)
    {
        var decision = body.Decision ?? throw new InvalidEntryException("decision", $"Required, one of: {string.Join(", ", EnumNames<ReviewDecision>.All)}.");
        return writes.ChangeAsync(
            id,
            person,
            body,
            change => new WriteResult(StatusCodes.Status200OK, ReviewView.Of(change.Log.AnswerReview(reviewId, decision, body.Note, change.ById, change.At), change.People)),
            cancel);
    }
}
