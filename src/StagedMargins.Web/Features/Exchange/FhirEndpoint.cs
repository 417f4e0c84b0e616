using Microsoft.EntityFrameworkCore;
using StagedMargins.Core;
using StagedMargins.Core.Mapping;
using StagedMargins.Storage;
using StagedMargins.Storage.Cases;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.Exchange;

/// <summary>A case for other systems.</summary>
public static class FhirEndpoint
{
    private static readonly string Program = typeof(FhirEndpoint).Assembly.ManifestModule.ModuleVersionId.ToString("N");

    /// <summary>Adds the route.</summary>
    public static void MapFhir(this IEndpointRouteBuilder cases) => cases
        .MapGet("/{id:guid}/fhir", GetAsync).RequireAuthorization(Policies.SeeCase).WithTags("Exchange")
        .WithSummary("The case as a FHIR R4 Bundle, with its map and the exact record for import by this program elsewhere.")
        .Produces<BundleBody>(contentType: FhirBundle.MediaType);

    private static Task<IResult> GetAsync(Guid id, CurrentPerson person, ClinicContext db, HistoryCheck check, HttpContext http, CancellationToken cancel) =>
        db.InReadSnapshotAsync(() => ReadAsync(id, person, db, check, http, cancel), cancel);

    private static async Task<IResult> ReadAsync(Guid id, CurrentPerson person, ClinicContext db, HistoryCheck check, HttpContext http, CancellationToken cancel)
    {
        var fault = await check.FirstFaultAsync(id, cancel);
        var known = await db.FindKnownAsync(id, cancel) ?? throw new NotInRecordException("Case not found.");
        var found = known.Case;
        if (fault is not null)
        {
            throw new RuleViolationException("notIntact", $"This record has changed since it was written: entry {fault.Sequence}, {fault.Row}: {fault.Why} It is not exported. Its PDF shows it as it is and says so.");
        }

        var clinic = await db.Clinics.SingleAsync(c => c.Id == person.ClinicId, cancel);
        var people = await ClinicPeople.LoadAsync(db, person.ClinicId, cancel);
        var photos = await PhotosAsync(db, found, cancel);
        var from = FormattableString.Invariant($"fhir {id} {found.Version} {clinic.Overlap.Minutes} {Program}");
        return CachedImageResult.Create(http, from, () =>
        {
            http.Response.Headers.ContentDisposition = $"inline; filename=\"case-{found.CaseNumber}.fhir.json\"";
            return Results.Bytes(FhirBundle.Write(found, known.Entries, clinic.Overlap, people, photos), FhirBundle.MediaType);
        });
    }

    private static async Task<IReadOnlyDictionary<string, byte[]>> PhotosAsync(ClinicContext db, SurgicalCase surgicalCase, CancellationToken cancel)
    {
        var photos = new Dictionary<string, byte[]>();
        foreach (var photo in surgicalCase.SitePhotos)
        {
            photos[photo.Sha256] = await db.IntactSitePhotoAsync(surgicalCase, photo, cancel);
        }

        return photos;
    }
}
