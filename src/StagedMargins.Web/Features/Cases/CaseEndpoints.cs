using Microsoft.EntityFrameworkCore;
using StagedMargins.Core;
using StagedMargins.Core.Mapping;
using StagedMargins.Storage;
using StagedMargins.Web.Contract;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.Cases;

/// <summary>Opening and seeing cases.</summary>
public static class CaseEndpoints
{
    /// <summary>Adds the routes.</summary>
    public static void MapCases(this IEndpointRouteBuilder cases)
    {
        cases.MapPost("/", OpenAsync).RequireAuthorization(Policies.RecordCase).WithTags("Cases")
            .WithSummary("Opens a case.").Produces<CaseView>(StatusCodes.Status201Created);
        cases.MapGet("/{id:guid}", GetAsync).RequireAuthorization(Policies.SeeCase).WithTags("Cases")
            .WithSummary("A case with everything recorded in it; with asOf, as it was known at an entry or a time.").Produces<CaseView>();
    }

    private static async Task<IResult> OpenAsync(CaseBody body, CurrentPerson person, ClinicContext db, CaseWriter writes, CancellationToken cancel)
    {
        var (opening, wantedNumber) = body.ToOpening();
        if (opening.FollowsCase is { } before && !await db.Cases.AnyAsync(c => c.CaseId == before, cancel))
        {
            throw new InvalidEntryException("followsCase", "The clinic has no such case.");
        }

        return await writes.OpenAsync(
            person,
            body,
            wantedNumber,
            opening.PatientRef!,
            (number, patientId, clinic, people, at) => new CaseLog(
                person.ClinicId,
                number,
                opening with { PatientId = patientId, SurgeonId = body.SurgeonOf(people) },
                clinic.SizeBoundary,
                person.Id,
                at),
            change => new WriteResult(StatusCodes.Status201Created, CaseView.Of(change.Case, change.Overlap, change.People), $"/api/cases/{change.Case.Id}"),
            cancel);
    }

    private static async Task<IResult> GetAsync(Guid id, string? asOf, ClinicContext db, PresentClinics clinics, HttpContext http, CancellationToken cancel)
    {
        var seen = await SeenCase.FindAsync(db, clinics, id, asOf, cancel);
        var found = seen.Case;
        http.Response.Headers.ETag = ETags.Of(found.Version);
        return Results.Ok(CaseView.Of(found, seen.Settings.Overlap, seen.Present.People) with { AsOf = seen.AsOf });
    }
}
