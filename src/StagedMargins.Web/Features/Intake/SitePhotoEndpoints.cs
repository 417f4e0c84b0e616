using Microsoft.AspNetCore.Mvc;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Core;
using StagedMargins.Drawing.Photos;
using StagedMargins.Storage;
using StagedMargins.Storage.Cases;
using StagedMargins.Web.Contract;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.Intake;

/// <summary>The photo of the site as it is marked on the patient.</summary>
public static class SitePhotoEndpoints
{
    /// <summary>Adds the routes.</summary>
    public static void MapSitePhoto(this IEndpointRouteBuilder cases)
    {
        var group = cases.MapGroup("/{id:guid}/site-photo").WithTags("Intake and risk");
        group.MapPost("", AddAsync).RequireAuthorization(Policies.RecordCase, Policies.Person)
            .WithMetadata(new RequestSizeLimitAttribute(PhotoFile.MostBytes))
            .WithSummary("Adds a photo of the marked site, JPEG or PNG. Only its pixels are kept, upright: no location, no device. A newer photo supersedes it.")
            // Any name is let in, for the content decides.
            .Accepts<byte[]>("image/jpeg", "image/png", "multipart/form-data", "*/*")
            .Produces<SitePhotoView>(StatusCodes.Status201Created);
        group.MapGet("", GetAsync).RequireAuthorization(Policies.SeeCase)
            .WithSummary("The photo of the marked site: the latest, or an earlier one by number.")
            .Produces<byte[]>(contentType: PhotoFile.ContentType);
    }

    private static async Task<IResult> AddAsync(Guid id, HttpRequest request, CurrentPerson person, ClinicContext db, CaseWriter writes, CancellationToken cancel)
    {
        // Asked first, so that nobody has a picture decoded for a case that is not theirs.
        if (!await db.Cases.AnyAsync(c => c.CaseId == id, cancel))
        {
            throw NoCase();
        }

        var picture = await SitePhotoUpload.ReadAsync(request, cancel);
        return await writes.ChangeAsync(
            id,
            person,
            new PhotoSent(picture.Digest()),
            change =>
            {
                var photo = change.Log.AddSitePhoto(picture, change.ById, change.At);
                return new WriteResult(StatusCodes.Status201Created, SitePhotoView.Of(photo, change.Case, change.People), $"/api/cases/{id}/site-photo");
            },
            cancel,
            photo: picture);
    }

    private static async Task<IResult> GetAsync(Guid id, int? number, ClinicContext db, HttpContext http, CancellationToken cancel)
    {
        var found = await db.FindCaseAsync(id, cancel) ?? throw NoCase();
        var photo = found.SitePhotos.LastOrDefault(photo => number is null || photo.Ordinal == number)
            ?? throw new NotInRecordException("This case has no such photo of the site.");
        if (CachedImageResult.IsKept(http, $"\"{photo.Sha256}\""))
        {
            return Results.StatusCode(StatusCodes.Status304NotModified);
        }

        return Results.Bytes(await db.IntactSitePhotoAsync(found, photo, cancel), photo.ContentType);
    }

    private static NotInRecordException NoCase() => new("Case not found.");
}
