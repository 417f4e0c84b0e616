using System.Text.Json;
using StagedMargins.Storage;
using StagedMargins.Web.Contract;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.Margins;

/// <summary>The state of the margins.</summary>
public static class MarginsEndpoints
{
    /// <summary>Adds the routes.</summary>
    public static void MapMargins(this IEndpointRouteBuilder cases) => cases
        .MapGet("/{id:guid}/margins", GetAsync)
        .RequireAuthorization(Policies.SeeCase)
        .WithTags("Margins")
        .WithSummary("The margins after the last stage, or after stage k, by the readings that count now; with asOf, as they were known at an entry or a time.")
        .Produces<MarginsView>();

    private static async Task<IResult> GetAsync(
        Guid id, int? afterStage, string? asOf, ClinicContext db, PresentClinics clinics, AnswerMemory answers, HttpContext http, CancellationToken cancel)
    {
        var seen = await SeenCase.FindAsync(db, clinics, id, asOf, cancel);
        http.Response.Headers.ETag = ETags.Of(seen.Version);
        var answer = answers.Find(
            new AnswerKey(id, seen.Seal, seen.Present.Number, FormattableString.Invariant($"margins {afterStage} {seen.AsOf?.LaterEntries}")),
            () => JsonSerializer.SerializeToUtf8Bytes(View(seen, afterStage), ApiJson.Options));
        return Results.Bytes(answer, "application/json; charset=utf-8");
    }

    private static MarginsView View(SeenCase seen, int? afterStage)
    {
        var found = seen.Case;
        var after = afterStage ?? found.Stages.Count;
        return MarginsView.Of(found.MarginsAfter(after, seen.Settings.Overlap), found, found.Stages.Take(after)) with { AsOf = seen.AsOf };
    }
}
