using System.Security.Cryptography;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StagedMargins.Core;
using StagedMargins.Core.Entries;
using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Storage.Cases;

/// <summary>The file of a photo, encrypted, found by the digest of the file, which an entry of its case holds and so seals. Written once.</summary>
public sealed class Photograph
{
    /// <summary>The clinic.</summary>
    public Guid ClinicId { get; init; }

    /// <summary>The case.</summary>
    public Guid CaseId { get; init; }

    /// <summary>SHA-256 over the file, hexadecimal.</summary>
    public string Sha256 { get; init; } = "";

    /// <summary>The file, encrypted under the data key of the case.</summary>
    public byte[] Bytes { get; init; } = [];
}

/// <summary>Keeps and finds files of photos.</summary>
public static class Photographs
{
    /// <summary>The file of a photo of the site as it was written; null where it is missing, or not as it was written.</summary>
    public static async Task<byte[]?> FindPhotographAsync(this ClinicContext db, SurgicalCase surgicalCase, SitePhoto photo, CancellationToken cancel)
    {
        var subject = await db.Keys.OfCaseAsync(db, surgicalCase.ClinicId, surgicalCase.Id, cancel);
        var kept = await db.Photographs.AsNoTracking().SingleOrDefaultAsync(one => one.CaseId == surgicalCase.Id && one.Sha256 == photo.Sha256, cancel);
        if (kept is null || subject.Key is null)
        {
            return null;
        }

        try
        {
            var file = subject.Key.DecryptBytes(kept.Bytes, PlaceOf(subject, photo.Sha256));
            return BarePicture.DigestOf(file) == photo.Sha256 ? file : null;
        }
        catch (CryptographicException)
        {
            return null;
        }
    }

    /// <summary>The file of a photo of the site, as it was written; another picture in its place may show the other side of the body.</summary>
    /// <exception cref="RuleViolationException">It is missing, or not as it was written.</exception>
    public static async Task<byte[]> IntactSitePhotoAsync(this ClinicContext db, SurgicalCase surgicalCase, SitePhoto photo, CancellationToken cancel) =>
        await db.FindPhotographAsync(surgicalCase, photo, cancel)
        ?? throw new RuleViolationException("photoNotIntact", "A photo of the site has changed since it was added and is not shown. Confirm the site on the patient, and have the record checked.");

    /// <summary>Keeps a file beside the entry that names it; saves nothing. The same file is kept once for a case.</summary>
    /// <param name="db">The record, in a transaction.</param>
    /// <param name="subject">The case with its data key.</param>
    /// <param name="picture">The file.</param>
    /// <param name="cancel">Ends the wait.</param>
    public static async Task KeepPhotographAsync(this ClinicContext db, SubjectKey subject, BarePicture picture, CancellationToken cancel)
    {
        var sha256 = picture.Digest();
        if (await db.Photographs.FindAsync([subject.ClinicId, subject.Id, sha256], cancel) is null)
        {
            var bytes = subject.Key!.EncryptBytes(picture.Bytes, PlaceOf(subject, sha256));
            db.Add(new Photograph { ClinicId = subject.ClinicId, CaseId = subject.Id, Sha256 = sha256, Bytes = bytes });
        }
    }

    private static WordsPlace PlaceOf(SubjectKey subject, string sha256) => subject.Place("photographs", 1, sha256);
}

internal sealed class PhotographConfiguration : IEntityTypeConfiguration<Photograph>
{
    private const int DigestLength = 64;

    public void Configure(EntityTypeBuilder<Photograph> entity)
    {
        entity.ToTable("photographs");
        entity.HasKey(photo => new { photo.ClinicId, photo.CaseId, photo.Sha256 });
        entity.Property(photo => photo.CaseId).ValueGeneratedNever();
        entity.Property(photo => photo.Sha256).HasMaxLength(DigestLength);
    }
}
