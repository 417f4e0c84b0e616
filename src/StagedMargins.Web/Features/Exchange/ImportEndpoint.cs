using StagedMargins.Core;
using StagedMargins.Core.Entries;
using StagedMargins.Core.Mapping;
using StagedMargins.Storage;
using StagedMargins.Storage.Cases;
using StagedMargins.Storage.Clinics;
using StagedMargins.Storage.Ledger;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.Exchange;

/// <summary>A case that was taken over.</summary>
/// <param name="Id">Its number in the service, the same as where it came from.</param>
/// <param name="CaseNumber">Its number in the clinic.</param>
/// <param name="Entries">How many entries were taken over.</param>
/// <param name="Sha256">SHA-256 of the bundle as it came, hexadecimal.</param>
/// <param name="AccountsMade">Addresses of authors who are not known here, for whom closed accounts were made.</param>
public sealed record ImportView(Guid Id, string CaseNumber, int Entries, string Sha256, IReadOnlyList<string> AccountsMade);

/// <summary>Taking a case over that this program exported elsewhere.</summary>
public static class ImportEndpoint
{
    /// <summary>Adds the route.</summary>
    public static void MapImport(this IEndpointRouteBuilder cases) => cases
        .MapPost("/import", ImportAsync).RequireAuthorization(Policies.Surgeon, Policies.Person).WithTags("Exchange")
        .WithMetadata(new Microsoft.AspNetCore.Mvc.RequestSizeLimitAttribute(RequestLimits.LargestBundle))
        .Accepts<BundleBody>("application/json", FhirBundle.MediaType)
        .WithSummary("Imports a case from a FHIR bundle that this program exported elsewhere: every entry by the rules of the record, or nothing.")
        .Produces<ImportView>(StatusCodes.Status201Created);

    private static async Task<IResult> ImportAsync(
        string? caseNumber, CurrentPerson person, ClinicContext db, CaseWriter writes, TimeProvider clock, HttpRequest request, CancellationToken cancel)
    {
        using var body = new MemoryStream();
        await request.Body.CopyToAsync(body, cancel);
        var bundle = body.ToArray();
        var record = CheckedRecord.Of(BundleFile.RecordIn(bundle), clock.GetUtcNow());
        var number = string.IsNullOrWhiteSpace(caseNumber) ? record.CaseNumber : SurgicalCase.CheckNumber(caseNumber.Trim());
        var digest = BundleFile.DigestOf(bundle);
        return await writes.ImportAsync(person, new { digest, number }, record.CaseId, number, ReplayAsync, Answer, cancel);

        async Task<(CaseLog Log, IReadOnlyList<EntryToWrite> Entries, CaseImported Note)> ReplayAsync(Clinic clinic, LedgerAuthor by, ClinicalTime at)
        {
            var people = await ImportedPeople.LoadAsync(db, clinic.Id, record, cancel);
            var replay = new RecordReplay(clinic.Id, people, record, number, digest);
            var imported = replay.Play(by, at);
            var subject = await db.Keys.ForWritingAsync(db, clinic.Id, imported.Id, isNew: true, cancel);
            foreach (var photo in replay.Photos)
            {
                await db.KeepPhotographAsync(subject, photo, cancel);
            }

            return (new CaseLog(imported), replay.Entries, new CaseImported(digest, record.Entries.Count, record.CaseNumber, number, people.Added));
        }

        WriteResult Answer(Change change)
        {
            var note = change.Case.Import!;
            var made = note.AccountsMade.Select(id => change.People.EmailOf(id)!);
            return new WriteResult(StatusCodes.Status201Created, new ImportView(change.Case.Id, number, note.Entries, note.Sha256, [.. made]), $"/api/cases/{change.Case.Id}");
        }
    }
}

/// <summary>A FHIR R4 Bundle of one case, as <c>GET /api/cases/{id}/fhir</c> gives it.</summary>
/// <param name="ResourceType">Bundle.</param>
public sealed record BundleBody(string? ResourceType);
