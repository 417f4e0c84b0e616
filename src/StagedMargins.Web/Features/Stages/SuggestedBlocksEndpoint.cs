using Microsoft.AspNetCore.Mvc;
using StagedMargins.Core.ClockFace;
using StagedMargins.Core.Mapping;
using StagedMargins.Web.Contract;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Problems;

namespace StagedMargins.Web.Features.Stages;

/// <summary>A block as it might be cut.</summary>
/// <param name="Label">Its label.</param>
/// <param name="Arc">The clock arc it covers.</param>
/// <param name="FromInk">Ink where its arc begins.</param>
/// <param name="ToInk">Ink where its arc ends.</param>
public sealed record PlannedBlockView(string Label, ArcBody Arc, string FromInk, string ToInk);

/// <summary>Suggests blocks for an arc.</summary>
public static class SuggestedBlocksEndpoint
{
    /// <summary>Adds the route.</summary>
    public static void MapBlockPlan(this IEndpointRouteBuilder routes) => routes
        .MapGet("/api/block-plan", Plan).RequireAuthorization(Policies.RecordCase).WithTags("Stages")
        .WithSummary("Suggests how to cut an arc into blocks of equal length (in whole minutes), with inks; nothing is recorded.").Produces<PlannedBlockView[]>();

    private static IResult Plan([FromQuery] string? from, [FromQuery] string? to, [FromQuery] int? count)
    {
        var errors = new FieldErrors();
        var (start, end) = (errors.Collect(null, () => (from ?? "").ToPosition("from")), errors.Collect(null, () => (to ?? "").ToPosition("to")));
        errors.ThrowIfAny();
        return Results.Ok(SuggestedBlocks.Cut(new ClockArc(start, end), count ?? 1).Select(block => new PlannedBlockView(block.Label, ArcBody.Of(block.Arc), block.FromInk, block.ToInk)));
    }
}
