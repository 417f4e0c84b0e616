using Microsoft.AspNetCore.Mvc;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Core;
using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;
using StagedMargins.Drawing.Photos;
using StagedMargins.Storage;
using StagedMargins.Storage.Cases;
using StagedMargins.Web.Features.Cases;
using StagedMargins.Web.Features.Pictures;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.Intake;

/// <summary>What is known of a photo of the marked site, as it is sent.</summary>
/// <param name="Number">Its number in the case; the highest one stands for the site.</param>
/// <param name="AddedBy">Who added it.</param>
/// <param name="AddedAt">When it was added.</param>
/// <param name="Site">The site of the case at that moment.</param>
/// <param name="Holds">False where the site was corrected since, so that it may show the wrong place.</param>
/// <param name="ContentType">Its media type.</param>
/// <param name="WidthPx">Width in pixels.</param>
/// <param name="HeightPx">Height in pixels.</param>
/// <param name="Sha256">SHA-256 over the file, hexadecimal.</param>
public sealed record SitePhotoView(int Number, string? AddedBy, DateTimeOffset AddedAt, SiteBody Site, bool Holds, string ContentType, int WidthPx, int HeightPx, string Sha256)
{
    /// <summary>Every photo of a case, oldest first.</summary>
    public static SitePhotoView[] AllOf(SurgicalCase surgicalCase, ClinicPeople people) => [.. surgicalCase.SitePhotos.Select(photo => Of(photo, surgicalCase, people))];

    internal static SitePhotoView Of(SitePhoto photo, SurgicalCase surgicalCase, ClinicPeople people) => new(
        photo.Ordinal,
        people.EmailOf(photo.AddedById),
        photo.AddedAt.ToDateTimeOffset(),
        photo.Site.ToBody(),
        photo.Site == surgicalCase.Facts.Site,
        photo.ContentType,
        photo.WidthPx,
        photo.HeightPx,
        photo.Sha256);
}

/// <summary>That a photo was added, as the history keeps it.</summary>
/// <param name="Sha256">SHA-256 over the file, hexadecimal.</param>
/// <param name="ContentType">Its media type.</param>
/// <param name="WidthPx">Width in pixels.</param>
/// <param name="HeightPx">Height in pixels.</param>
internal sealed record PhotoAdded(string Sha256, string ContentType, int WidthPx, int HeightPx)
{
    /// <summary>Of a picture.</summary>
    internal static PhotoAdded Of(BarePicture picture) => new(picture.Digest(), picture.ContentType, picture.WidthPx, picture.HeightPx);
}

/// <summary>The photo of the site as it is marked on the patient.</summary>
public static class SitePhotoEndpoints
{
    /// <summary>What the history calls adding one.</summary>
    internal const string What = "addSitePhoto";

    /// <summary>Adds the routes.</summary>
    public static void MapSitePhoto(this IEndpointRouteBuilder cases)
    {
        var group = cases.MapGroup("/{id:guid}/site-photo").WithTags("Intake and risk");
        group.MapPost("", AddAsync).RequireAuthorization(Policies.RecordCase, Policies.Person)
            .WithMetadata(new RequestSizeLimitAttribute(PhotoFile.MostBytes))
            .WithSummary("Adds a photo of the marked site, JPEG or PNG. Only its pixels are kept, upright: no location, no device. A newer one supersedes it.")
            // Any name is let in, for the content decides.
            .Accepts<byte[]>("image/jpeg", "image/png", "multipart/form-data", "*/*")
            .Produces<SitePhotoView>(StatusCodes.Status201Created);
        group.MapGet("", GetAsync).RequireAuthorization(Policies.SeeCase)
            .WithSummary("The photo of the marked site: the latest, or an earlier one by its number.")
            .Produces<byte[]>(contentType: PhotoFile.ContentType);
    }

    private static async Task<IResult> AddAsync(Guid id, HttpRequest request, CurrentPerson person, ClinicContext db, CaseWrites writes, CancellationToken cancel)
    {
        // Asked first, so that nobody has a picture decoded for a case that is not theirs.
        if (!await db.Cases.AnyAsync(c => c.Id == id, cancel))
        {
            throw NoCase();
        }

        var picture = await SitePhotoUpload.ReadAsync(request, cancel);
        return await writes.ChangeAsync(
            id,
            person,
            What,
            PhotoAdded.Of(picture),
            change =>
            {
                var photo = change.Case.AddSitePhoto(picture, change.ById, change.At);
                return new Answer(StatusCodes.Status201Created, SitePhotoView.Of(photo, change.Case, change.People), $"/api/cases/{id}/site-photo");
            },
            cancel);
    }

    private static async Task<IResult> GetAsync(Guid id, int? number, ClinicContext db, HttpContext http, CancellationToken cancel)
    {
        var found = await db.FindCaseAsync(id, cancel) ?? throw NoCase();
        var photo = found.SitePhotos.LastOrDefault(photo => number is null || photo.Ordinal == number)
            ?? throw new NotInRecordException("There is no such photo of the site in this case.");
        if (CachedImageResult.IsKept(http, $"\"{photo.Sha256}\""))
        {
            return Results.StatusCode(StatusCodes.Status304NotModified);
        }

        // Another picture in its place may show the other side of the body.
        return await db.FindSitePhotoFileAsync(id, photo.Ordinal, cancel) is { } file && file.Digest() == photo.Sha256
            ? Results.Bytes(file.Bytes, photo.ContentType)
            : throw NotIntact();
    }

    /// <summary>That a photo is not as it was written.</summary>
    internal static ForbiddenNowException NotIntact() =>
        new("photoNotIntact", "A photo of the site is not as it was written and is not shown. Confirm the site on the patient, and have the record checked.");

    private static NotInRecordException NoCase() => new("There is no such case.");
}
