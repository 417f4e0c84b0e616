using Microsoft.EntityFrameworkCore;
using StagedMargins.Core;
using StagedMargins.Drawing.Documents;
using StagedMargins.Storage;
using StagedMargins.Storage.Cases;
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
        Guid id, string? paper, CurrentPerson person, ClinicContext db, HistoryCheck check, TimeProvider clock, HttpContext http, CancellationToken cancel)
    {
        var sheet = PdfResponses.PaperOf(paper);
        var print = await db.InReadSnapshotAsync(() => ReadAsync(id, person, db, check, clock, cancel), cancel);
        var surgicalCase = print.Case;
        var from = FormattableString.Invariant($"record {id} {surgicalCase.Head.Version} {print.Entries} {print.Overlap.Minutes} {print.Boundary} {print.Clinic} {print.Fault} {sheet.Width}");
        return PdfResponses.Create(http, from, $"record-{surgicalCase.CaseNumber}.pdf", () => RecordDocument.ToPdf(print, sheet, cancel));
    }

    private static async Task<RecordPrintout> ReadAsync(Guid id, CurrentPerson person, ClinicContext db, HistoryCheck check, TimeProvider clock, CancellationToken cancel)
    {
        var fault = await check.FirstFaultAsync(id, cancel);
        var found = await db.FindCaseAsync(id, cancel) ?? throw new NotInRecordException("Case not found.");
        var clinic = await db.Clinics.SingleAsync(c => c.Id == person.ClinicId, cancel);
        var people = await ClinicPeople.LoadAsync(db, person.ClinicId, cancel);
        var entries = await db.History.CountAsync(row => row.CaseId == id, cancel);
        return new RecordPrintout(
            found, clinic.Overlap, clinic.SizeBoundary, clinic.Name, people.EmailOf, entries,
            fault is null ? null : $"Change {fault.Sequence}, {fault.Row}: {fault.Why}", clinic.Now(clock))
        {
            Origin = await CaseOrigin.LoadAsync(db, id, people, cancel),
        };
    }
}
