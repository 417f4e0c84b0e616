using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Diagnostics.HealthChecks;
using StagedMargins.Storage;
using StagedMargins.Storage.Ledger;
using StagedMargins.Web.Problems;

namespace StagedMargins.Web.Hosting;

/// <summary>
/// Walks the whole ledger each night, compares accounts, settings, tokens, closed months and openings with it, and keeps what it found for the health page and the log. An older fault never stops surgery: the
/// service works on.
/// </summary>
/// <param name="scopes">To find the database.</param>
/// <param name="check">Checks seals.</param>
/// <param name="clock">The clock.</param>
/// <param name="log">The log.</param>
public sealed partial class NightlyCheck(IServiceScopeFactory scopes, LedgerCheck check, TimeProvider clock, ILogger<NightlyCheck> log) : RepeatedWork(Interval), IHealthCheck
{
    private const int Hour = 3;
    private static readonly TimeSpan Interval = TimeSpan.FromMinutes(20);
    private DateOnly checkedOn;
    private string? fault;

    /// <summary>Walks the ledger now.</summary>
    public async Task RunAsync(CancellationToken cancel)
    {
        await using var scope = scopes.CreateAsyncScope();
        var options = scope.ServiceProvider.GetRequiredService<DbContextOptions<ClinicContext>>();
        var streams = await scope.ServiceProvider.GetRequiredService<ClinicContext>().LedgerHeads.IgnoreQueryFilters().AsNoTracking()
            .Select(head => new { head.ClinicId, head.Stream }).ToListAsync(cancel);
        string? found = null;
        foreach (var stream in streams)
        {
            await using var db = new ClinicContext(options) { Scope = new ClinicScope { ClinicId = stream.ClinicId } };
            db.AllowLongReads();
            if (await db.InReadSnapshotAsync(() => check.FirstFaultAsync(db, stream.Stream, cancel), cancel) is { } first)
            {
                found ??= FormattableString.Invariant($"{stream.ClinicId}/{stream.Stream}, entry {first.Sequence}: {first.Why}");
                LogFault(log, stream.ClinicId, stream.Stream, first.Sequence, first.Why);
            }

            // Once for each clinic: what it has besides cases.
            foreach (var other in stream.Stream == LedgerStreams.Record ? await db.InReadSnapshotAsync(() => check.FaultsOfClinicAsync(db, stream.ClinicId, cancel), cancel) : [])
            {
                found ??= $"{stream.ClinicId}, {other.Row}: {other.Why}";
                LogOtherFault(log, stream.ClinicId, other.Row, other.Why);
            }
        }

        fault = found;
        if (found is null)
        {
            LogIntact(log, streams.Count);
        }
    }

    /// <inheritdoc/>
    public Task<HealthCheckResult> CheckHealthAsync(HealthCheckContext context, CancellationToken cancellationToken = default) =>
        Task.FromResult(fault is null ? HealthCheckResult.Healthy() : HealthCheckResult.Degraded(fault));

    /// <inheritdoc/>
    protected override async Task DoAsync(CancellationToken cancel)
    {
        var now = clock.GetLocalNow();
        var today = DateOnly.FromDateTime(now.DateTime);
        if (now.Hour == Hour && checkedOn != today)
        {
            await TryAsync(cancel);
            checkedOn = today;
        }
    }

    private async Task TryAsync(CancellationToken cancel)
    {
        try
        {
            await RunAsync(cancel);
        }
        catch (Exception e) when (DatabaseFaults.IsPassing(e))
        {
            LogAway(log);
        }
    }

    [LoggerMessage(Level = LogLevel.Error, Message = "The record is not intact: clinic {Clinic}, stream {Stream}, entry {Entry}: {Why} Run the command verify.")]
    private static partial void LogFault(ILogger log, Guid clinic, string stream, long entry, string why);

    [LoggerMessage(Level = LogLevel.Error, Message = "The record is not intact: clinic {Clinic}, {Row}: {Why} Run the command verify.")]
    private static partial void LogOtherFault(ILogger log, Guid clinic, string row, string why);

    [LoggerMessage(Level = LogLevel.Information, Message = "The ledger was walked: {Streams} streams, all intact")]
    private static partial void LogIntact(ILogger log, int streams);

    [LoggerMessage(Level = LogLevel.Warning, Message = "The database does not answer, so the ledger was not walked tonight.")]
    private static partial void LogAway(ILogger log);
}
