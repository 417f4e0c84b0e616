using Microsoft.EntityFrameworkCore;
using StagedMargins.Storage.Cases;
using StagedMargins.Storage.Ledger;
using StagedMargins.Web.Backup;
using StagedMargins.Web.Hosting;

namespace StagedMargins.Web.Commands;

/// <summary><c>restore --from FILE [--key-file FILE]</c>: makes the record of a backup in the empty place that the settings name.</summary>
internal static class RestoreCommand
{
    /// <summary>Runs it.</summary>
    /// <returns>
    /// 0 where the record is restored and every case is as it was written; 2 where it is restored, but cases are not as they were
    /// written, which the backup then took over from its record. Whatever keeps it from restoring is thrown and leaves nothing.
    /// </returns>
    internal static async Task<int> RunAsync(IServiceProvider services, TextWriter output)
    {
        var settings = services.GetRequiredService<IConfiguration>();
        var source = Path.GetFullPath(settings["from"] ?? throw new BackupException("Name the backup file: restore --from FILE"));
        var key = settings["key-file"] is { } keyFile ? BackupKey.Read(keyFile) : null;
        using var stop = new StopSignals();
        await using var scope = services.CreateAsyncScope();
        var progress = new Progress(output, services.GetRequiredService<TimeProvider>());

        progress.Say($"Checking the file …");
        using var reader = BackupReader.Open(source, key);
        GuardKeys(reader.Manifest, services.GetRequiredService<LedgerKeys>());
        reader.CheckRows(progress, stop.Token);

        await using var configured = TableOwner.Open(scope.ServiceProvider);
        await using var target = await RestoreTarget.OpenAsync(configured, stop.Token);
        await LoadAsync(reader, target, progress, stop.Token);
        await MakeRowsAsync(target, services, progress, stop.Token);
        var isIntact = await new RecordCheck(clinicId => target.Context(clinicId, services.GetRequiredService<SubjectKeys>), services.GetRequiredService<LedgerCheck>(), output, [.. reader.Manifest.Heads.Select(LedgerAnchor.Parse)]).RunAsync(stop.Token);
        await BeginEpochsAsync(target, services, reader.Manifest.MadeAt, output, stop.Token);
        await target.PublishAsync(stop.Token);
        await output.WriteLineAsync(isIntact
            ? "Restored. Everyone must sign in again, and other systems need new tokens."
            : "Restored from the backup, but the cases above were already not intact when it was taken. Find out why before anyone relies on them.");
        return isIntact ? 0 : 2;
    }

    private static async Task LoadAsync(BackupReader reader, RestoreTarget target, Progress progress, CancellationToken cancel)
    {
        string lastSeen;
        await using (var db = target.Context(Guid.Empty))
        {
            lastSeen = SchemaSteps.LastSeen([.. db.Database.GetMigrations()], reader.Manifest.Schema);
        }

        await target.ChangeTablesAsync(after: null, upTo: lastSeen, cancel);
        foreach (var table in reader.Manifest.Tables)
        {
            await target.LoadAsync(table, reader.Rows(table), progress, cancel);
            progress.Say($"{table.Name}: {table.Rows:N0} rows");
        }

        await target.ChangeTablesAsync(after: lastSeen, upTo: null, cancel);
        await target.CloseTablesAsync(cancel);
    }

    // What is computed is not in a backup. A case that can't be read gets no row; the check that follows names it.
    private static async Task MakeRowsAsync(RestoreTarget target, IServiceProvider services, Progress progress, CancellationToken cancel)
    {
        await using var all = target.Context(Guid.Empty);
        foreach (var clinicId in await all.Clinics.Select(clinic => clinic.Id).ToListAsync(cancel))
        {
            await using var db = target.Context(clinicId, services.GetRequiredService<SubjectKeys>);
            await db.MakeRowsAsync(done => progress.Rows("cases", done), cancel);
        }
    }

    // A token that was revoked after the backup would work again, so all are. Sign-ins end by themselves: their keys are in no backup.
    private static async Task BeginEpochsAsync(RestoreTarget target, IServiceProvider services, DateTimeOffset backupMadeAt, TextWriter output, CancellationToken cancel)
    {
        var entries = services.GetRequiredService<ChangeEntries>();
        await using var all = target.Context(Guid.Empty);
        foreach (var clinicId in await all.Clinics.Select(clinic => clinic.Id).ToListAsync(cancel))
        {
            await using var db = target.Context(clinicId, findChangeEntries: () => entries);
            try
            {
                await entries.BeginEpochAsync(db, clinicId, backupMadeAt, cancel);
            }
            catch (LedgerDiffersException)
            {
                await output.WriteLineAsync($"The record of clinic {clinicId} does not end where it was last sealed, so the restore could not be noted in it. An administrator can accept its end with a reason.");
                continue;
            }

            var now = services.GetRequiredService<TimeProvider>().GetUtcNow().UtcDateTime;
            foreach (var token in await db.ApiTokens.Where(token => token.RevokedUtc == null).ToListAsync(cancel))
            {
                token.RevokedUtc = now;
            }

            await db.SaveChangesAsync(cancel);
        }
    }

    private static void GuardKeys(BackupManifest manifest, LedgerKeys keys)
    {
        if (manifest.HistoryKeys.Except(keys.Ids).FirstOrDefault() is { } missing)
        {
            throw new BackupException($"Histories in this backup were sealed with the key '{missing}', which is not among the history keys here. Restore the key file first, or set History:KeyFile. Nothing was written.");
        }
    }
}
