using Microsoft.EntityFrameworkCore;
using StagedMargins.Core;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Risk;
using StagedMargins.Storage;
using StagedMargins.Storage.Clinics;
using StagedMargins.Web.Contract;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Problems;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.Settings;

/// <summary>Settings of a clinic as they are sent and taken; what is left out stays.</summary>
/// <param name="Name">Its name.</param>
/// <param name="TimeZone">Its time zone, by IANA name.</param>
/// <param name="OverlapMinutes">How far the next layer reaches past the tumour on each side, 0 to 120 clock minutes.</param>
/// <param name="SizeBoundary">On which side of 2 and 4 cm a tumour of exactly that diameter stands in AJCC 8.</param>
/// <param name="Retention">How long the clinic keeps what.</param>
/// <param name="MirroredBlocks">True where the slides of a block that says nothing show the mirror image.</param>
public sealed record ClinicBody(string? Name, string? TimeZone, int? OverlapMinutes, SizeBoundary? SizeBoundary, RetentionBody? Retention, bool? MirroredBlocks = null)
{
    /// <summary>As the clinic has set it.</summary>
    public static ClinicBody Of(Clinic clinic) => new(clinic.Name, clinic.TimeZone, clinic.OverlapMinutes, clinic.SizeBoundary, RetentionBody.Of(clinic.Retention), clinic.MirroredBlocks);
}

/// <summary>The clinic's settings.</summary>
public static class ClinicEndpoints
{
    /// <summary>Adds the routes.</summary>
    public static void MapClinic(this IEndpointRouteBuilder routes)
    {
        var clinic = routes.MapGroup("/api/clinic").WithTags("People and settings");
        clinic.MapGet("/", GetAsync).WithSummary("The clinic's settings.").Produces<ClinicBody>();
        clinic.MapPost("/", SetAsync).RequireAuthorization(Policies.Administrator).WithSummary("Changes the clinic's settings.").Produces<ClinicBody>();
    }

    private static async Task<IResult> GetAsync(CurrentPerson person, ClinicContext db, CancellationToken cancel)
    {
        var clinic = await db.Clinics.SingleAsync(c => c.Id == person.ClinicId, cancel);
        return Results.Ok(ClinicBody.Of(clinic));
    }

    private static async Task<IResult> SetAsync(ClinicBody body, CurrentPerson person, ClinicContext db, CaseEvents events, CancellationToken cancel)
    {
        var errors = new FieldErrors();
        var name = errors.Collect(null, () => FreeText.Optional("name", body.Name, PersonFields.LongestName));
        var zone = errors.Collect(null, () => ClinicFields.Zone(body.TimeZone));
        var overlap = errors.Collect(null, () => body.OverlapMinutes is { } minutes ? new Overlap(minutes).Minutes : (int?)null);
        errors.ThrowIfAny();
        var clinic = await db.Clinics.SingleAsync(c => c.Id == person.ClinicId, cancel);
        clinic.Name = name ?? clinic.Name;
        clinic.TimeZone = zone ?? clinic.TimeZone;
        clinic.OverlapMinutes = overlap ?? clinic.OverlapMinutes;
        clinic.SizeBoundary = body.SizeBoundary ?? clinic.SizeBoundary;
        clinic.MirroredBlocks = body.MirroredBlocks ?? clinic.MirroredBlocks;
        body.Retention?.Set(clinic.Retention);
        if (await db.SaveChangesAsync(cancel) > 0)
        {
            events.Tell(CaseChanged.Settings(clinic.Id));
        }

        return Results.Ok(ClinicBody.Of(clinic));
    }
}
