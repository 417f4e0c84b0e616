using Microsoft.EntityFrameworkCore;
using StagedMargins.Core;
using StagedMargins.Storage;
using StagedMargins.Storage.Cases;
using StagedMargins.Web.Contract;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.Margins;

/// <summary>The state of the margins.</summary>
public static class MarginsEndpoints
{
    /// <summary>Adds the routes.</summary>
    public static void MapMargins(this IEndpointRouteBuilder cases) => cases
        .MapGet("/{id:guid}/margins", GetAsync)
        .RequireAuthorization(Policies.SeeCase)
        .WithTags("Margins")
        .WithSummary("The margins after the last stage, or after stage k, by the readings that count now.")
        .Produces<MarginsView>();

    private static async Task<IResult> GetAsync(Guid id, int? afterStage, CurrentPerson person, ClinicContext db, HttpContext http, CancellationToken cancel)
    {
        var found = await db.FindCaseAsync(id, cancel) ?? throw new NotInRecordException("Case not found.");
        var clinic = await db.Clinics.SingleAsync(c => c.Id == person.ClinicId, cancel);
        var after = afterStage ?? found.Stages.Count;
        http.Response.Headers.ETag = ETags.Of(found.Head.Version);
        return Results.Ok(MarginsView.Of(found.MarginsAfter(after, clinic.Overlap), found, found.Stages.Take(after)));
    }
}
