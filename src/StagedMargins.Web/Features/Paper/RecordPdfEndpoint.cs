using StagedMargins.Drawing.Documents;
using StagedMargins.Storage;
using StagedMargins.Web.Contract;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.Paper;

/// <summary>The record of a case on paper.</summary>
public static class RecordPdfEndpoint
{
    /// <summary>Adds the route.</summary>
    public static void MapRecordPdf(this IEndpointRouteBuilder cases) => cases
        .MapGet("/{id:guid}/record.pdf", GetAsync).RequireAuthorization(Policies.SeeCase).WithTags("Paper")
        .WithSummary("The whole record as PDF on a4 or letter paper, with every stage's map and the check of its history.")
        .Produces<byte[]>(contentType: PdfResponses.Pdf);

    private static async Task<IResult> GetAsync(
        Guid id, string? paper, string? asOf, ClinicContext db, PresentClinics clinics, HistoryCheck check, TimeProvider clock, HttpContext http, CancellationToken cancel)
    {
        var sheet = PdfResponses.PaperOf(paper);
        var print = await db.InReadSnapshotAsync(() => ReadAsync(id, asOf, db, clinics, check, clock, cancel), cancel);
        var surgicalCase = print.Case;
        var from = FormattableString.Invariant($"record {id} {surgicalCase.Version} {print.Entries} {print.Overlap.Minutes} {print.Boundary} {print.Clinic} {print.Fault} {print.AsOf} {sheet.Width}");
        return PdfResponses.Create(http, from, $"record-{surgicalCase.CaseNumber}.pdf", () => RecordDocument.ToPdf(print, sheet, cancel));
    }

    private static async Task<RecordPrintout> ReadAsync(Guid id, string? asOf, ClinicContext db, PresentClinics clinics, HistoryCheck check, TimeProvider clock, CancellationToken cancel)
    {
        var fault = await check.FirstFaultAsync(id, cancel);
        var seen = await SeenCase.FindAsync(db, clinics, id, asOf, cancel);
        var (found, entries) = (seen.Case, seen.Entries);
        var (clinic, people) = (seen.Present.Clinic, seen.Present.People);
        return new RecordPrintout(
            found, seen.Settings.Overlap, seen.Settings.SizeBoundary, seen.Settings.Name, people.EmailOf, entries.Count,
            fault is null ? null : $"Change {fault.Sequence}, {fault.Row}: {fault.Why}", clinic.Now(clock))
        {
            Origin = CaseOrigin.Of(entries),
            AsOf = seen.Notice,
            LastSeal = FormattableString.Invariant($"{entries[^1].Number}:{Convert.ToHexStringLower(entries[^1].Hash.Span)}"),
        };
    }
}
