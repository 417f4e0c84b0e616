using Microsoft.EntityFrameworkCore;
using StagedMargins.Core;
using StagedMargins.Core.Mapping;
using StagedMargins.Drawing.Documents;
using StagedMargins.Storage;
using StagedMargins.Storage.Cases;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Contract;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.Paper;

/// <summary>Labels for the blocks of a case.</summary>
public static class LabelsPdfEndpoint
{
    /// <summary>Adds the route.</summary>
    public static void MapLabelsPdf(this IEndpointRouteBuilder cases) => cases
        .MapGet("/{id:guid}/labels.pdf", GetAsync).RequireAuthorization(Policies.SeeCase).WithTags("Paper")
        .WithSummary("Labels for the blocks of one stage, or of all stages, as PDF on a4 or letter paper: 3 × 8 labels of 60 × 32 mm. skip leaves that many places on the first sheet blank.")
        .Produces<byte[]>(contentType: PdfResponses.Pdf);

    private static async Task<IResult> GetAsync(
        Guid id, int? stage, string? paper, int? skip, CurrentPerson person, ClinicContext db, TimeProvider clock, HttpContext http, CancellationToken cancel)
    {
        var sheet = PdfResponses.PaperOf(paper);
        var found = await db.FindCaseAsync(id, cancel) ?? throw new NotInRecordException("Case not found.");
        IReadOnlyList<Stage> stages = stage is { } number ? [found.StageOf(number)] : found.Stages;
        var here = new Uri($"{http.Request.Scheme}://{http.Request.Host}{http.Request.PathBase}/");
        var labels = stages.SelectMany(each => each.Blocks.Select(block => BlockLabel.Of(found, each, block, new Uri(here, PageAddresses.MarkBlock(id, each.Number, block.Label))))).ToList();
        if (labels.Count == 0)
        {
            throw new RuleViolationException("noBlocks", stage is null ? "The case has no block yet, so there is nothing to label." : $"Stage {stage} has no blocks yet, so there is nothing to label.");
        }

        var printedAt = (await db.Clinics.SingleAsync(c => c.Id == person.ClinicId, cancel)).Now(clock);
        var from = FormattableString.Invariant($"labels {id} {found.Version} {stage} {skip} {here} {sheet.Width}");
        return PdfResponses.Create(http, from, $"labels-{found.CaseNumber}.pdf", () => LabelSheet.ToPdf(labels, sheet, skip ?? 0, printedAt, cancel));
    }
}
