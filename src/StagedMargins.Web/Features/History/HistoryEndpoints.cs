using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Core;
using StagedMargins.Storage;
using StagedMargins.Storage.History;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.History;

/// <summary>One change as it is sent.</summary>
/// <param name="Sequence">Its place, from 1.</param>
/// <param name="At">When.</param>
/// <param name="By">By whom.</param>
/// <param name="What">What was done, in one word.</param>
/// <param name="Content">What was entered.</param>
/// <param name="Hash">Its seal.</param>
public sealed record HistoryEntryView(int Sequence, DateTimeOffset At, string? By, string What, JsonElement Content, string Hash);

/// <summary>Whether the record is as it was written.</summary>
/// <param name="Intact">True where it is.</param>
/// <param name="CheckedEntries">Changes checked.</param>
/// <param name="FirstBroken">The first row that is not as it was written.</param>
public sealed record ChainView(bool Intact, int CheckedEntries, ChainFault? FirstBroken);

/// <summary>The history of a case as it is sent.</summary>
/// <param name="Entries">Its changes, oldest first.</param>
/// <param name="Chain">The check of its seals and rows.</param>
public sealed record HistoryView(HistoryEntryView[] Entries, ChainView Chain);

/// <summary>The history of a case.</summary>
public static class HistoryEndpoints
{
    /// <summary>Adds the route.</summary>
    public static void MapHistory(this IEndpointRouteBuilder cases) => cases
        .MapGet("/{id:guid}/history", GetAsync).RequireAuthorization(Policies.SeeCase).WithTags("History")
        .WithSummary("Every entry of the case, and the check that the record is unchanged since it was written.").Produces<HistoryView>();

    private static Task<IResult> GetAsync(Guid id, CurrentPerson person, ClinicContext db, HistoryCheck check, CancellationToken cancel) =>
        db.InReadSnapshotAsync(() => ReadAsync(id, person, db, check, cancel), cancel);

    private static async Task<IResult> ReadAsync(Guid id, CurrentPerson person, ClinicContext db, HistoryCheck check, CancellationToken cancel)
    {
        var history = await db.History.AsNoTracking().Where(row => row.CaseId == id).OrderBy(row => row.Sequence).ToListAsync(cancel);
        if (history.Count == 0 && !await db.Cases.AnyAsync(c => c.Id == id, cancel))
        {
            throw new NotInRecordException("Case not found.");
        }

        var fault = await check.FirstFaultAsync(id, cancel);
        var people = await ClinicPeople.LoadAsync(db, person.ClinicId, cancel);
        return Results.Ok(new HistoryView(
            [.. history.Select(row => new HistoryEntryView(row.Sequence, row.At.ToDateTimeOffset(), people.EmailOf(row.ById), row.What, Content(row), row.Hash))],
            new ChainView(fault is null, history.Count, fault)));
    }

    // A row that someone changed may no longer be JSON; it is shown as it stands, and the check names it.
    private static JsonElement Content(HistoryEntry row)
    {
        try
        {
            return JsonSerializer.Deserialize<JsonElement>(row.Content);
        }
        catch (JsonException)
        {
            return JsonSerializer.SerializeToElement(row.Content);
        }
    }
}
