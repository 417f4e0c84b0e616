using Microsoft.EntityFrameworkCore;
using StagedMargins.Core;
using StagedMargins.Core.Risk;
using StagedMargins.Storage;
using StagedMargins.Storage.Cases;
using StagedMargins.Web.Contract;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Problems;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.Risk;

/// <summary>The risk of a case, what it was, and what it would be while intake is being typed.</summary>
public static class RiskEndpoints
{
    /// <summary>Adds the routes.</summary>
    public static void MapRisk(this IEndpointRouteBuilder cases)
    {
        cases.MapGet("/{id:guid}/risk", GetAsync).RequireAuthorization(Policies.SeeCase).WithTags("Intake and risk")
            .WithSummary("T categories, area class and prompts from the facts known now and the readings that count.").Produces<RiskView>();
        cases.MapGet("/{id:guid}/risk/assessments", ListAsync).RequireAuthorization(Policies.SeeCase).WithTags("Intake and risk")
            .WithSummary("The assessment each time facts were entered, oldest first.").Produces<KeptAssessmentView[]>();
        cases.MapPost("/risk-rehearsal", PreviewAsync).RequireAuthorization(Policies.RecordCase).WithTags("Intake and risk")
            .WithSummary("The risk of a case as it is being entered; writes nothing.").Produces<RiskView>();
    }

    private static async Task<IResult> GetAsync(Guid id, CurrentPerson person, ClinicContext db, HttpContext http, CancellationToken cancel)
    {
        var found = await db.FindCaseAsync(id, cancel) ?? throw new NotInRecordException("Case not found.");
        var clinic = await db.Clinics.SingleAsync(c => c.Id == person.ClinicId, cancel);
        http.Response.Headers.ETag = ETags.Of(found.Version);
        return Results.Ok(RiskView.Of(RiskAssessment.Of(found, clinic.SizeBoundary)));
    }

    private static async Task<IResult> ListAsync(Guid id, ClinicContext db, HttpContext http, CancellationToken cancel)
    {
        var found = await db.FindCaseAsync(id, cancel) ?? throw new NotInRecordException("Case not found.");
        http.Response.Headers.ETag = ETags.Of(found.Version);
        return Results.Ok(found.Assessments.Select(KeptAssessmentView.Of).ToArray());
    }

    private static async Task<IResult> PreviewAsync(CaseBody body, CurrentPerson person, ClinicContext db, CancellationToken cancel)
    {
        var errors = new FieldErrors();
        var facts = body.ToFacts(errors);
        errors.ThrowIfAny();
        var clinic = await db.Clinics.SingleAsync(c => c.Id == person.ClinicId, cancel);
        return Results.Ok(RiskView.Of(RiskAssessment.Of(facts, clinic.SizeBoundary)));
    }
}
