using System.Globalization;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Storage;
using StagedMargins.Storage.Ledger;
using StagedMargins.Web.Problems;

namespace StagedMargins.Web.Hosting;

/// <summary>
/// Writes the heads of the ledger outside the database, each minute in which they moved: to the log, and to the file of the setting
/// <c>Ledger:AnchorFile</c>, which belongs on another disk. A record put back to an earlier day is found by them.
/// </summary>
/// <param name="scopes">To find the database.</param>
/// <param name="settings">The settings.</param>
/// <param name="clock">The clock.</param>
/// <param name="log">The log.</param>
public sealed partial class AnchorWriter(IServiceScopeFactory scopes, IConfiguration settings, TimeProvider clock, ILogger<AnchorWriter> log) : RepeatedWork(Interval, isAtOnce: true)
{
    private static readonly TimeSpan Interval = TimeSpan.FromMinutes(1);
    private readonly HashSet<LedgerAnchor> written = [];

    /// <summary>The setting that names the file.</summary>
    public const string FileSetting = "Ledger:AnchorFile";

    /// <inheritdoc/>
    protected override async Task DoAsync(CancellationToken cancel)
    {
        try
        {
            await using var scope = scopes.CreateAsyncScope();
            var heads = await scope.ServiceProvider.GetRequiredService<ClinicContext>().LedgerHeads.IgnoreQueryFilters().AsNoTracking().ToListAsync(cancel);
            var moved = heads.Select(LedgerAnchor.Of).Where(anchor => !written.Contains(anchor)).ToList();
            if (moved.Count == 0)
            {
                return;
            }

            if (settings[FileSetting] is { Length: > 0 } file)
            {
                var now = clock.GetUtcNow().ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture);
                await File.AppendAllLinesAsync(file, moved.Select(anchor => $"{now} {anchor}"), cancel);
            }

            foreach (var anchor in moved)
            {
                LogHead(log, anchor);
                written.RemoveWhere(earlier => earlier.ClinicId == anchor.ClinicId && earlier.Stream == anchor.Stream);
                written.Add(anchor);
            }
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            LogNotWritten(log);
        }
        catch (Exception e) when (DatabaseFaults.IsPassing(e))
        {
            LogAway(log);
        }
    }

    [LoggerMessage(Level = LogLevel.Information, Message = "Ledger head {Head}")]
    private static partial void LogHead(ILogger log, LedgerAnchor head);

    [LoggerMessage(Level = LogLevel.Error, Message = "The heads of the ledger can't be written to the file of Ledger:AnchorFile; see that it can be written to.")]
    private static partial void LogNotWritten(ILogger log);

    [LoggerMessage(Level = LogLevel.Warning, Message = "The database does not answer, so the heads of the ledger were not written; they will be in a minute.")]
    private static partial void LogAway(ILogger log);
}
