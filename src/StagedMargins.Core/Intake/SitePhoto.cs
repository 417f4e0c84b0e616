using System.Security.Cryptography;
using StagedMargins.Core.Entries;

namespace StagedMargins.Core.Intake;

/// <summary>A picture that holds nothing but its pixels: no place, no device, no other note.</summary>
/// <param name="ContentType">Its media type.</param>
/// <param name="WidthPx">Width in pixels, upright.</param>
/// <param name="HeightPx">Height in pixels, upright.</param>
/// <param name="Bytes">The file.</param>
public sealed record BarePicture(string ContentType, int WidthPx, int HeightPx, byte[] Bytes)
{
    /// <summary>SHA-256 over the file, hexadecimal.</summary>
    public string Digest() => DigestOf(Bytes);

    /// <summary>SHA-256 over bytes, hexadecimal.</summary>
    public static string DigestOf(byte[] bytes) => Convert.ToHexStringLower(SHA256.HashData(bytes));
}

/// <summary>A photo of the site as it is marked on the patient. A newer one supersedes it; none is deleted.</summary>
public sealed class SitePhoto
{
    private readonly RecordedSite site;

    internal SitePhoto(SitePhotoAdded added, int ordinal, Authorship written)
    {
        (Ordinal, site, AddedById, AddedAt) = (ordinal, added.Site, written.ById, written.At);
        (ContentType, WidthPx, HeightPx, Sha256) = (added.ContentType, added.WidthPx, added.HeightPx, added.Sha256);
    }

    /// <summary>Its place among the photos of the case, from 1.</summary>
    public int Ordinal { get; }

    /// <summary>The site of the case when it was added. A photo of a site that was corrected since may show the wrong place.</summary>
    public Site Site => site.Open();

    /// <summary>Its media type.</summary>
    public string ContentType { get; }

    /// <summary>Width in pixels.</summary>
    public int WidthPx { get; }

    /// <summary>Height in pixels.</summary>
    public int HeightPx { get; }

    /// <summary>SHA-256 over the file, hexadecimal. The history seals it and so the file.</summary>
    public string Sha256 { get; }

    /// <summary>Who added it.</summary>
    public Guid AddedById { get; }

    /// <summary>When it was added, which may be later than when it was taken.</summary>
    public ClinicalTime AddedAt { get; }
}
