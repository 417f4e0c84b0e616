using StagedMargins.Core;
using StagedMargins.Storage;
using StagedMargins.Storage.Ledger;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.Settings;

/// <summary>Why writing may go on.</summary>
/// <param name="Reason">The reason.</param>
public sealed record RecordEndBody(string? Reason);

/// <summary>A stream whose end was accepted.</summary>
/// <param name="Stream">The stream.</param>
/// <param name="HeadNumber">The entry at which its head said that it ends.</param>
/// <param name="LastNumber">The last entry that is there.</param>
public sealed record AcceptedEndView(string Stream, long HeadNumber, long LastNumber);

/// <summary>
/// Lets writing go on where the record does not end where it was last sealed. Until an administrator says why, nothing can be written.
/// </summary>
public static class RecordEndEndpoint
{
    /// <summary>Adds the route.</summary>
    public static void MapRecordEnd(this IEndpointRouteBuilder routes) => routes
        .MapPost("/api/clinic/record-end", AcceptAsync).RequireAuthorization(Policies.Administrator, Policies.Person).WithTags("People and settings")
        .WithSummary("Accepts, with a reason, that the record does not end where it was last sealed, so that writing goes on. It becomes an entry.").Produces<AcceptedEndView[]>();

    private static async Task<IResult> AcceptAsync(RecordEndBody body, CurrentPerson person, ClinicContext db, ChangeEntries entries, SqliteWriteLimiter limiter, CancellationToken cancel)
    {
        var reason = FreeText.Required("reason", body.Reason);
        using var turn = await limiter.EnterAsync(db, cancel);
        await using var transaction = await db.Database.BeginTransactionAsync(cancel);
        var accepted = await entries.AcceptEndsAsync(db, person.ClinicId, person.Id, reason, cancel);
        if (accepted.Count == 0)
        {
            throw new RuleViolationException("recordEndAgrees", "The record ends where it was last sealed; there is nothing to accept.");
        }

        await transaction.CommitAsync(cancel);
        return Results.Ok(accepted.Select(end => new AcceptedEndView(end.Stream, end.HeadNumber, end.LastNumber)));
    }
}
