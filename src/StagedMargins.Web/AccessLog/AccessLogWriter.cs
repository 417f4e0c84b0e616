using System.Data.Common;
using System.Threading.Channels;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Core.Entries;
using StagedMargins.Storage;
using StagedMargins.Storage.AccessLog;
using StagedMargins.Storage.Ledger;
using StagedMargins.Web.Problems;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.AccessLog;

/// <summary>
/// Writes down who looked at which case, asynchronously: one entry of the ledger for what was shown within two seconds. A patient is on
/// the table while a map is read, so no reader ever waits for this log or is refused for it: openings wait here, are tried again while
/// the database refuses them, and what can't be kept is said in the program's log as an error. Where the process is killed, those two
/// seconds are lost.
/// </summary>
/// <param name="services">The services.</param>
/// <param name="ledger">Seals entries.</param>
/// <param name="limiter">Where writers of a file wait.</param>
/// <param name="clock">The clock.</param>
/// <param name="log">The program's log.</param>
public sealed partial class AccessLogWriter(
    IServiceScopeFactory services, LedgerWriter ledger, SqliteWriteLimiter limiter, TimeProvider clock, ILogger<AccessLogWriter> log) : BackgroundService
{
    private const int MostWaiting = 50_000;
    private const int MostAtOnce = 500;
    private static readonly TimeSpan OneRowFor = TimeSpan.FromMinutes(1);
    private static readonly TimeSpan GatheredFor = TimeSpan.FromSeconds(2);
    private static readonly TimeSpan BeforeNextTry = TimeSpan.FromSeconds(1);

    private readonly Channel<PendingEntry> waiting = Channel.CreateBounded<PendingEntry>(MostWaiting);
    private readonly Dictionary<(Guid By, Guid Case, string What), DateTimeOffset> lately = [];

    /// <summary>Notes that someone looked at a case.</summary>
    /// <param name="person">Who.</param>
    /// <param name="caseId">Which case, of the person's clinic.</param>
    /// <param name="what">What of it: <c>case</c>, or the part of the address behind the case.</param>
    public void Note(CurrentPerson person, Guid caseId, string what)
    {
        if (!waiting.Writer.TryWrite(new PendingEntry(person.ClinicId, caseId, person.Id, clock.GetUtcNow(), what[..Math.Min(what.Length, AccessEntry.LongestWhat)], null)))
        {
            Lost(log, 1);
        }
    }

    /// <summary>Waits until what was noted so far is written, or some seconds have passed.</summary>
    public async Task CatchUpAsync(CancellationToken cancel)
    {
        var done = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        if (waiting.Writer.TryWrite(new PendingEntry(default, default, default, default, "", done)))
        {
            await Task.WhenAny(done.Task, Task.Delay(TimeSpan.FromSeconds(5), clock, cancel));
            cancel.ThrowIfCancellationRequested();
        }
    }

    /// <inheritdoc/>
    public override async Task StopAsync(CancellationToken cancellationToken)
    {
        waiting.Writer.TryComplete();
        await base.StopAsync(cancellationToken);
    }

    /// <inheritdoc/>
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        // It ends when no more can come, not at the first sign of stopping: what waits is still written.
        while (await waiting.Reader.WaitToReadAsync(CancellationToken.None))
        {
            var batch = await GatherAsync();
            var entries = batch.Where(one => one.Done is null && IsNew(one)).ToList();
            while (entries.Count > 0 && !await TryWriteAsync(entries))
            {
                if (stoppingToken.IsCancellationRequested)
                {
                    Lost(log, entries.Count + waiting.Reader.Count);
                    return;
                }

                await Task.Delay(BeforeNextTry, CancellationToken.None);
            }

            batch.ForEach(one => one.Done?.TrySetResult());
            Forget();
        }
    }

    // What comes within two seconds, unless someone waits for it to be written.
    private async Task<List<PendingEntry>> GatherAsync()
    {
        var (batch, ends) = (new List<PendingEntry>(), Task.Delay(GatheredFor));
        do
        {
            while (batch.Count < MostAtOnce && waiting.Reader.TryRead(out var one))
            {
                batch.Add(one);
            }

            if (batch.Count == MostAtOnce || batch.Exists(one => one.Done is not null))
            {
                break;
            }
        }
        while (await Task.WhenAny(ends, More()) is Task<bool> { Result: true });
        return batch;

        Task<bool> More() => waiting.Reader.WaitToReadAsync(CancellationToken.None).AsTask();
    }

    private async Task<bool> TryWriteAsync(List<PendingEntry> entries)
    {
        try
        {
            foreach (var ofClinic in entries.GroupBy(one => one.ClinicId))
            {
                await WriteAsync(ofClinic.Key, [.. ofClinic]);
                entries.RemoveAll(one => one.ClinicId == ofClinic.Key);
            }

            return true;
        }
        catch (Exception e) when (e is DbUpdateException or DbException or LedgerClosedException || DatabaseFaults.IsPassing(e))
        {
            NotWritten(log, e, entries.Count, waiting.Reader.Count);
            return false;
        }
    }

    private async Task WriteAsync(Guid clinicId, IReadOnlyList<PendingEntry> openings)
    {
        await using var scope = services.CreateAsyncScope();
        scope.ServiceProvider.GetRequiredService<ClinicScope>().ClinicId = clinicId;
        var db = scope.ServiceProvider.GetRequiredService<ClinicContext>();
        using var turn = await limiter.EnterAsync(db, CancellationToken.None);
        await using var transaction = await db.Database.BeginTransactionAsync();
        var clinic = await db.Clinics.SingleAsync(clinic => clinic.Id == clinicId);
        var shown = new CasesShown([.. openings.Select(one => new Opening(Guid.CreateVersion7(one.At), one.CaseId, one.ById, clinic.At(one.At), one.What))]);
        var now = clinic.Now(clock);
        var entry = new UnsealedEntry(null, CasesShown.Kind, LedgerAuthor.Service, now, null, EntryJson.WritePlain(CasesShown.Kind, shown));
        var head = await db.LockHeadAsync(clinicId, LedgerStreams.Access, CancellationToken.None);
        var number = await ledger.AppendAsync(db, head, [entry], Guid.CreateVersion7(now.ToDateTimeOffset()), CancellationToken.None);
        db.AddRange(AccessEntry.AllOf(clinicId, number, shown));
        await db.SaveChangesAsync();
        await transaction.CommitAsync();
    }

    // A clock that steps back must not keep openings out for as long as it stepped.
    private bool IsNew(PendingEntry one)
    {
        var key = (one.ById, one.CaseId, one.What);
        if (lately.TryGetValue(key, out var last) && (one.At - last).Duration() < OneRowFor)
        {
            return false;
        }

        lately[key] = one.At;
        return true;
    }

    private void Forget()
    {
        var now = clock.GetUtcNow();
        foreach (var key in lately.Where(pair => (now - pair.Value).Duration() >= OneRowFor).Select(pair => pair.Key).ToList())
        {
            lately.Remove(key);
        }
    }

    [LoggerMessage(LogLevel.Error, "The access log could not be written; {Count} entries will be retried and {Waiting} are waiting behind them.")]
    private static partial void NotWritten(ILogger log, Exception exception, int count, int waiting);

    [LoggerMessage(LogLevel.Error, "{Count} entries of the access log are lost: who opened these cases is not on record.")]
    private static partial void Lost(ILogger log, int count);

    private sealed record PendingEntry(Guid ClinicId, Guid CaseId, Guid ById, DateTimeOffset At, string What, TaskCompletionSource? Done);
}
