using System.Text;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Core;
using StagedMargins.Core.Mapping;
using StagedMargins.Drawing;
using StagedMargins.Storage;
using StagedMargins.Storage.Cases;
using StagedMargins.Web.AccessLog;
using StagedMargins.Web.Contract;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.Stages;

/// <summary>Layers, their blocks and their times.</summary>
public static class StageEndpoints
{
    /// <summary>Adds the routes.</summary>
    public static void MapStages(this IEndpointRouteBuilder cases)
    {
        var stages = cases.MapGroup("/{id:guid}/stages").WithTags("Stages");
        stages.MapPost("/", RecordAsync).RequireAuthorization(Policies.RecordCase)
            .WithSummary("Records a layer that was taken, as the next stage.").Produces<StageView>(StatusCodes.Status201Created);
        stages.MapPost("/rehearsal", PreviewAsync).RequireAuthorization(Policies.RecordCase).WithMetadata(new ShowsCase(true))
            .WithSummary("What a layer would change; writes nothing.").Produces<LayerPreviewView>();
        stages.MapPost("/rehearsal/map.svg", DrawPreviewAsync).RequireAuthorization(Policies.RecordCase).WithMetadata(new ShowsCase(true))
            .WithSummary("The cumulative map as it would be with a layer; writes nothing.").Produces<string>(contentType: "image/svg+xml");
        stages.MapGet("/{n:int}", GetAsync).RequireAuthorization(Policies.SeeCase)
            .WithSummary("A stage.").Produces<StageView>();
        stages.MapPost("/{n:int}/blocks", AddBlockAsync).RequireAuthorization(Policies.RecordCase)
            .WithSummary("Adds a block to a stage.").Produces<BlockView>(StatusCodes.Status201Created);
        stages.MapPost("/{n:int}/times", RecordTimesAsync).RequireAuthorization(Policies.RecordCase)
            .WithSummary("Enters when the tissue was received and when the slides were ready.").Produces<StageView>();
    }

    private static Task<IResult> RecordAsync(Guid id, StageBody body, CurrentPerson person, CaseWriter writes, CancellationToken cancel) => writes.ChangeAsync(
        id,
        person,
        body,
        change =>
        {
            var stage = body.Record(change);
            return new WriteResult(StatusCodes.Status201Created, StageView.Of(stage, change.People), $"/api/cases/{id}/stages/{stage.Number}");
        },
        cancel,
        addsStage: true);

    private static async Task<IResult> PreviewAsync(Guid id, StageBody body, CurrentPerson person, ClinicContext db, TimeProvider clock, CancellationToken cancel)
    {
        var found = await db.FindCaseAsync(id, cancel) ?? throw new NotInRecordException("Case not found.");
        var clinic = await db.Clinics.SingleAsync(c => c.Id == person.ClinicId, cancel);
        var now = clinic.Now(clock);
        return Results.Ok(LayerPreviewView.Of(found.Preview(body.ToLayer(now, clinic), clinic.Overlap, now), found));
    }

    private static async Task<IResult> DrawPreviewAsync(Guid id, StageBody body, bool? withoutSurround, CurrentPerson person, ClinicContext db, TimeProvider clock, CancellationToken cancel)
    {
        var found = await db.FindCaseAsync(id, cancel) ?? throw new NotInRecordException("Case not found.");
        var clinic = await db.Clinics.SingleAsync(c => c.Id == person.ClinicId, cancel);
        var now = clinic.Now(clock);
        var log = new CaseLog(found);
        log.RecordLayer(body.ToLayer(now, clinic) with { ReasonForUnread = body.ReasonForUnread ?? "rehearsal" }, clinic.Overlap, person.Id, now);
        var request = new MapRequest(log.Case, clinic.Overlap, log.Case.Stages.Count, Cumulative: true, ShowPatientRef: false) { WithoutSurround = withoutSurround ?? false };
        return Results.Text(MapPicture.ToSvg(request, MapDetails.NarrowestFull - 1), "image/svg+xml", Encoding.UTF8);
    }

    private static async Task<IResult> GetAsync(Guid id, int n, CurrentPerson person, ClinicContext db, HttpContext http, CancellationToken cancel)
    {
        var found = await db.FindCaseAsync(id, cancel) ?? throw new NotInRecordException("Case not found.");
        http.Response.Headers.ETag = ETags.Of(found.Version);
        return Results.Ok(StageView.Of(found.StageOf(n), await ClinicPeople.LoadAsync(db, person.ClinicId, cancel)));
    }

    private static Task<IResult> AddBlockAsync(Guid id, int n, BlockBody body, CurrentPerson person, CaseWriter writes, CancellationToken cancel) => writes.ChangeAsync(
        id,
        person,
        body,
        change =>
        {
            var block = change.Log.AddBlock(n, body.ToEntry(change.Clinic), change.ById, change.At);
            return new WriteResult(StatusCodes.Status201Created, BlockView.Of(block, change.Case.StageOf(n), change.People), $"/api/cases/{id}/stages/{n}");
        },
        cancel);

    private static Task<IResult> RecordTimesAsync(Guid id, int n, TimesBody body, CurrentPerson person, CaseWriter writes, CancellationToken cancel)
    {
        var times = body.ToMoments();
        return writes.ChangeAsync(
            id,
            person,
            body,
            change => new WriteResult(
                StatusCodes.Status200OK,
                StageView.Of(change.Log.RecordTimes(n, times, change.ById, change.At), change.People)),
            cancel);
    }
}
