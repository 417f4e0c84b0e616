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
/// <param name="Obstacle">Why none can be taken, and what whoever keeps the service has to do; null where one can.</param>
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

    private const string NoFolder = "No folder for backups is set. Whoever keeps the service sets Backup:Folder, and Backup:KeyFile to have them encrypted, and starts it again. Until then the task \"backup --to FILE\" of the program takes one.";

    private readonly BackupFolder? folder = services.GetService<BackupFolder>();
    private readonly Channel<Run> asked = Channel.CreateBounded<Run>(1);
    private readonly Lock gate = new();
    private Run? running;
    private BackupFile? last;
    private string? failure;

    /// <summary>Begins one.</summary>
    /// <param name="byId">Who asks for it.</param>
    /// <exception cref="ForbiddenNowException">No folder is set, or one is being taken.</exception>
    public void Begin(Guid byId)
    {
        if (folder is null)
        {
            throw new ForbiddenNowException("noBackupFolder", NoFolder);
        }

        lock (gate)
        {
            var now = clock.GetUtcNow();
            var run = new Run(now, folder.PathFor(now), folder.Key, new Progress(TextWriter.Null, clock));
            if (running is not null || !asked.Writer.TryWrite(run))
            {
                throw new ForbiddenNowException("backupRunning", "A backup is being taken now. Wait until it is done.");
            }

            running = run;
            Began(log, run.Name, byId);
        }
    }

    /// <summary>Where backups stand.</summary>
    public BackupState State()
    {
        var (files, obstacle) = Files();
        lock (gate)
        {
            return running is { } run
                ? new BackupState(true, run.StartedAt, run.Said, last, null, obstacle, files)
                : new BackupState(false, null, failure ?? (last is null ? null : $"Taken and read back: {last.File}"), last, failure, obstacle, files);
        }
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
            var taken = BackupFolder.Find(new FileInfo(run.Target)) ?? throw new FileNotFoundException("The backup was taken away as soon as it stood.");
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
            return ([], "The folder for backups can't be read now. Tell whoever keeps the service.");
        }
    }

    // Paths and the words of systems stand in the log; on the screen they would help nobody.
    private static string WhyNot(Exception exception) => exception switch
    {
        IOException e when DiskFaults.IsFull(e) => "Not taken: there is no room in the folder for backups, and no file was left. Tell whoever keeps the service to make room there.",
        IOException or UnauthorizedAccessException => "Not taken: the folder for backups can't be written, and no file was left. Whoever keeps the service finds the reason in its log.",
        BackupException or InvalidDataException => "Not taken: what was read back is not what was written, and it was not kept. The disk may be failing; tell whoever keeps the service.",
        DbException => "Not taken: the record could not be read, and no file was left. Try again; if it stays so, tell whoever keeps the service.",
        _ => "Not taken: something went wrong in the program, and no file was left. Tell whoever keeps the service.",
    };

    [LoggerMessage(LogLevel.Information, "Backup {File} begun, asked for by {ById}.")]
    private static partial void Began(ILogger log, string file, Guid byId);

    [LoggerMessage(LogLevel.Information, "Backup {File} written and read back: {Bytes} bytes, encrypted: {Encrypted}.")]
    private static partial void Ended(ILogger log, string file, long bytes, bool encrypted);

    [LoggerMessage(LogLevel.Warning, "Backup {File} was not finished because the service stops; no file was left.")]
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
