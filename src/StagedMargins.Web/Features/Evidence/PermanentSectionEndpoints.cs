using StagedMargins.Core;
using StagedMargins.Core.Care;
using StagedMargins.Web.Contract;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.Evidence;

/// <summary>Permanent sections of blocks.</summary>
public static class PermanentSectionEndpoints
{
    /// <summary>Adds the routes.</summary>
    public static void MapPermanentSections(this IEndpointRouteBuilder cases)
    {
        var group = cases.MapGroup("/{id:guid}/stages/{n:int}/blocks/{label}/permanent-section").WithTags("Second reads");
        group.MapPost("", SendAsync).RequireAuthorization(Policies.RecordCase)
            .WithSummary("Records that a block was sent for permanent section.").Produces<PermanentSectionView>(StatusCodes.Status201Created);
        cases.MapPost("/{id:guid}/stages/{n:int}/blocks/{label}/permanent-sections/{sectionId:int}/result", ReportOneAsync).RequireAuthorization(Policies.Surgeon).WithTags("Second reads")
            .WithSummary("The same, by the number of the permanent section.").Produces<PermanentSectionView>(StatusCodes.Status201Created);
        group.MapPost("/result", ReportAsync).RequireAuthorization(Policies.Surgeon)
            .WithSummary("Enters the result of a permanent section. Where it is positive and the reading is not, the place is unread until a surgeon amends the reading.").Produces<PermanentSectionView>(StatusCodes.Status201Created);
    }

    private static Task<IResult> SendAsync(Guid id, int n, string label, PermanentSectionBody body, CurrentPerson person, CaseWriter writes, CancellationToken cancel) =>
        writes.ChangeAsync(id, person, body, change => View(id, change, body.Send(change, n, label)), cancel);

    private static Task<IResult> ReportAsync(Guid id, int n, string label, PermanentResultBody body, CurrentPerson person, CaseWriter writes, CancellationToken cancel) =>
        writes.ChangeAsync(
            id,
            person,
            body,
            change => View(id, change, change.Log.ReportPermanentSection(n, label, body.ToEntry(change.At), change.ById, change.At)),
            cancel);

    private static Task<IResult> ReportOneAsync(
        Guid id, int n, string label, int sectionId, PermanentResultBody body, CurrentPerson person, CaseWriter writes, CancellationToken cancel) =>
        writes.ChangeAsync(
            id,
            person,
            body,
            change => change.Case.PermanentSections.Any(sent => sent.Number == sectionId && sent is { IsVoid: false } && (sent.StageNumber, sent.BlockLabel) == (n, label))
                ? View(id, change, change.Log.ReportPermanentSection(n, label, body.ToEntry(change.At), change.ById, change.At))
                : throw new NotInRecordException("This block has no such permanent section."),
            cancel);

    private static WriteResult View(Guid id, Change change, PermanentSection sent) =>
        new(StatusCodes.Status201Created, PermanentSectionView.Of(change.Case, sent), $"/api/cases/{id}");
}
