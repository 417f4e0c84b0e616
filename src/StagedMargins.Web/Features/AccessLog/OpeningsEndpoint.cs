using System.Globalization;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Core;
using StagedMargins.Storage;
using StagedMargins.Web.AccessLog;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.AccessLog;

/// <summary>Someone looked at a case.</summary>
/// <param name="At">When.</param>
/// <param name="By">Who: the person's address, or the name of another system.</param>
/// <param name="What">What of it.</param>
public sealed record OpeningView(DateTimeOffset At, string? By, string What);

/// <summary>A page of openings, newest first.</summary>
/// <param name="Items">The openings.</param>
/// <param name="Next">What to send as <c>cursor</c> for the next page; null at the end.</param>
public sealed record OpeningsPage(OpeningView[] Items, string? Next);

/// <summary>Who looked at a case, and when; nothing of the patient.</summary>
public static class OpeningsEndpoint
{
    private const int UsualLimit = 200;
    private const int MostLimit = 1000;

    /// <summary>Adds the route.</summary>
    public static void MapOpenings(this IEndpointRouteBuilder cases) => cases
        .MapGet("/{id:guid}/openings", ListAsync).RequireAuthorization(Policies.SeeOpenings).WithMetadata(new ShowsCase(false)).WithTags("History")
        .WithSummary("Who opened the case and when, newest first.").Produces<OpeningsPage>();

    private static async Task<IResult> ListAsync(
        Guid id, string? cursor, int? limit, CurrentPerson person, ClinicContext db, AccessLogWriter writer, CancellationToken cancel)
    {
        var take = limit ?? UsualLimit;
        if (take is < 1 or > MostLimit)
        {
            throw new InvalidEntryException("limit", $"1 to {MostLimit}.");
        }

        // The log only grows at its front, so counting from there can show a row twice and never leaves one out.
        if (!int.TryParse(cursor ?? "0", NumberStyles.None, CultureInfo.InvariantCulture, out var skip))
        {
            throw new InvalidEntryException("cursor", "Send the value of next from the previous page, or leave it out.");
        }

        if (!await db.Cases.AnyAsync(c => c.CaseId == id, cancel))
        {
            throw new NotInRecordException("Case not found.");
        }

        await writer.CatchUpAsync(cancel);
        var rows = await db.AccessLog.AsNoTracking().Where(entry => entry.CaseId == id)
            .OrderByDescending(entry => entry.EntryNumber).ThenByDescending(entry => entry.Ordinal)
            .Skip(skip).Take(take + 1)
            .ToListAsync(cancel);
        var people = await ClinicPeople.LoadAsync(db, person.ClinicId, cancel);
        return Results.Ok(new OpeningsPage(
            [.. rows.Take(take).Select(entry => new OpeningView(entry.At.ToDateTimeOffset(), people.EmailOf(entry.ById), entry.What))],
            rows.Count > take ? (skip + take).ToString(CultureInfo.InvariantCulture) : null));
    }
}
