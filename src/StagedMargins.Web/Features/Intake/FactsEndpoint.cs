using StagedMargins.Core;
using StagedMargins.Core.Risk;
using StagedMargins.Web.Features.Cases;
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
        .WithSummary("Corrects facts of a case: those that changed, with the reason. What was entered before stays in the history.").Produces<CaseView>();

    private static Task<IResult> CorrectAsync(Guid id, FactsCorrectionBody body, CurrentPerson person, CaseWrites writes, CancellationToken cancel) => writes.ChangeAsync(
        id,
        person,
        "correctFacts",
        body,
        change =>
        {
            Correct(change, body, change.Clinic.SizeBoundary);
            return new Answer(StatusCodes.Status200OK, CaseView.Of(change.Case, change.Overlap, change.People));
        },
        cancel);

    /// <summary>Corrects the facts.</summary>
    internal static void Correct(Change change, FactsCorrectionBody body, SizeBoundary boundary)
    {
        var errors = new FieldErrors();
        var facts = body.Over(change.Case).ToFacts(errors);
        var reason = errors.Collect(null, () => FreeText.Required("reason", body.Reason));
        errors.ThrowIfAny();
        change.Case.CorrectFacts(facts, reason, boundary, change.ById, change.At);
    }
}
