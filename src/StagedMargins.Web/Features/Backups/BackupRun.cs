using System.Data.Common;
using System.Threading.Channels;
using StagedMargins.Core;
using StagedMargins.Web.Backup;

namespace StagedMargins.Web.Features.Backups;

/// <summary>Where backups stand. They hold every clinic of the record, so nothing here says how much is in one but its size.</summary>
/// <param name="Running">True while one is taken.</param>
/// <param name="StartedAt">When that one was begun, UTC; null while none is taken.</param>
/// <param name="Progress">How far it is, or how the last one ended, in one sentence; null where none was taken since the service was started.</param>
/// <param name="Last">The last one that the service has taken since it was started.</param>
/// <param name="Failure">Why the last one came to nothing; null where it did not.</param>
/// <param name="Obstacle">Why none can be taken, and what the operator has to do; null where one can.</param>
/// <param name="Files">The newest backups in the folder, newest first, at most 20.</param>
public sealed record BackupState(
    bool Running, DateTimeOffset? StartedAt, string? Progress, BackupFile? Last, string? Failure, string? Obstacle, IReadOnlyList<BackupFile> Files);

/// <summary>Takes backups while the service runs: one at a time, into the operator's folder and nowhere else.</summary>
/// <param name="services">To find the folder, where one is set.</param>
/// <param name="clock">The clock.</param>
/// <param name="log">The log.</param>
public sealed partial class BackupRun(IServiceProvider services, TimeProvider clock, ILogger<BackupRun> log) : BackgroundService
{
    private const int MostFiles = 20;

    private const string NoFolder = "No backup folder is set. The operator sets Backup:Folder, and Backup:KeyFile to encrypt backups, and restarts the service. Until then the task \"backup --to FILE\" of the program takes one.";

    private readonly BackupFolder? folder = services.GetService<BackupFolder>();
    private readonly Channel<Run> asked = Channel.CreateBounded<Run>(1);
    private readonly Lock gate = new();
    private Run? running;
    private BackupFile? last;
    private string? failure;

    /// <summary>Begins one.</summary>
    /// <param name="byId">Who asks for it.</param>
    /// <exception cref="RuleViolationException">No folder is set, or one is being taken.</exception>
    public void Begin(Guid byId)
    {
        if (folder is null)
        {
            throw new RuleViolationException("noBackupFolder", NoFolder);
        }

        lock (gate)
        {
            var now = clock.GetUtcNow();
            var run = new Run(now, folder.PathFor(now), folder.Key, new Progress(TextWriter.Null, clock));
            if (running is not null || !asked.Writer.TryWrite(run))
            {
                throw new RuleViolationException("backupRunning", "A backup is already in progress. Wait until it has finished.");
            }

            running = run;
            Began(log, run.Name, byId);
        }
    }

    /// <summary>Where backups stand.</summary>
    public BackupState State()
    {
        BackupState state;
        lock (gate)
        {
            state = running is { } run
                ? new BackupState(true, run.StartedAt, run.Said, last, null, null, [])
                : new BackupState(false, null, failure ?? (last is null ? null : $"Taken and read back: {last.File}"), last, failure, null, []);
        }

        // The folder is read last: otherwise a backup that ends in between would be called done and not be listed.
        var (files, obstacle) = Files();
        return state with { Files = files, Obstacle = obstacle };
    }

    /// <inheritdoc/>
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        try
        {
            await foreach (var run in asked.Reader.ReadAllAsync(stoppingToken))
            {
                await TakeAsync(run, stoppingToken);
            }
        }
        catch (OperationCanceledException) when (stoppingToken.IsCancellationRequested)
        {
            // Told to end. A start that fails would otherwise log this as a second failure.
        }
    }

    private async Task TakeAsync(Run run, CancellationToken cancel)
    {
        try
        {
            folder!.ClearLeftovers();
            await services.GetRequiredService<RecordBackup>().TakeAsync(run.Target, run.Key, run.Progress, cancel);
            var taken = BackupFolder.Find(new FileInfo(run.Target)) ?? throw new FileNotFoundException("The backup was removed as soon as it was written.");
            Ended(log, run.Name, taken.Bytes, taken.Encrypted);
            End(taken, null);
        }
        catch (OperationCanceledException) when (cancel.IsCancellationRequested)
        {
            Stopped(log, run.Name);
            throw;
        }
        catch (Exception e) when (WhyNot(e) is { } words)
        {
            // Whatever it was, a backup that fails must not end the service that a clinic works with.
            Failed(log, e, run.Name);
            End(null, words);
        }
    }

    private void End(BackupFile? taken, string? why)
    {
        lock (gate)
        {
            (running, last, failure) = (null, taken ?? last, why);
        }
    }

    private (IReadOnlyList<BackupFile> Files, string? Obstacle) Files()
    {
        try
        {
            return folder is null ? ([], NoFolder) : (folder.Newest(MostFiles), null);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return ([], "The backup folder can't be read at the moment. Tell the operator.");
        }
    }

    // Paths and the words of systems stand in the log; on the screen they would help nobody.
    private static string WhyNot(Exception exception) => exception switch
    {
        IOException e when DiskFaults.IsFull(e) => "Not taken: the backup folder is full. No file was left. Ask the operator to free up space.",
        IOException or UnauthorizedAccessException => "Not taken: the backup folder can't be written. No file was left. The operator finds the reason in the log.",
        BackupException or InvalidDataException => "Not taken: what was read back differs from what was written, so the file was discarded. The disk may be failing; tell the operator.",
        DbException => "Not taken: the record could not be read. No file was left. Try again; if it keeps happening, tell the operator.",
        _ => "Not taken: something went wrong in the program. No file was left. Tell the operator.",
    };

    [LoggerMessage(LogLevel.Information, "Backup {File} started, requested by {ById}.")]
    private static partial void Began(ILogger log, string file, Guid byId);

    [LoggerMessage(LogLevel.Information, "Backup {File} written and read back: {Bytes} bytes, encrypted: {Encrypted}.")]
    private static partial void Ended(ILogger log, string file, long bytes, bool encrypted);

    [LoggerMessage(LogLevel.Warning, "Backup {File} was not finished because the service is stopping; no file was left.")]
    private static partial void Stopped(ILogger log, string file);

    [LoggerMessage(LogLevel.Error, "Backup {File} was not taken.")]
    private static partial void Failed(ILogger log, Exception exception, string file);

    private sealed record Run(DateTimeOffset StartedAt, string Target, BackupKey? Key, Progress Progress)
    {
        internal string Name => Path.GetFileName(Target);

        internal string Said => new FileInfo(BackupWriter.PartOf(Target)) is { Exists: true, Length: > 0 and var bytes }
            ? $"{Progress.Part}, {FileSize.Of(bytes)} so far …"
            : $"{Progress.Part} …";
    }
}
