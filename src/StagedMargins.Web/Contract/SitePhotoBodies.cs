using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Contract;

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

/// <summary>A photo that was sent, for the key.</summary>
/// <param name="Sha256">SHA-256 over the file, hexadecimal.</param>
internal sealed record PhotoSent(string Sha256);
