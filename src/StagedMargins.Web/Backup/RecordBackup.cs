using StagedMargins.Storage;

namespace StagedMargins.Web.Backup;

/// <summary>Takes a backup: the whole record, as it stands at one moment, written into one file and read back before it gets its name.</summary>
/// <param name="scopes">To find the record.</param>
/// <param name="clock">The clock.</param>
internal sealed class RecordBackup(IServiceScopeFactory scopes, TimeProvider clock)
{
    /// <summary>Takes one. Whatever keeps it from being whole is thrown and leaves no file.</summary>
    /// <param name="target">The file to be made.</param>
    /// <param name="key">The key, where it is to be encrypted.</param>
    /// <param name="progress">Told how far it is.</param>
    /// <param name="cancel">Ends the work.</param>
    /// <exception cref="IOException">The file can't be written, or there is one of that name.</exception>
    /// <exception cref="Hosting.StartFailureException">There is no record, or one of an earlier version.</exception>
    /// <exception cref="BackupException">What was written is not what is read back.</exception>
    internal async Task TakeAsync(string target, BackupKey? key, Progress progress, CancellationToken cancel)
    {
        await using var scope = scopes.CreateAsyncScope();
        await using var snapshot = await RecordSnapshot.TakeAsync(scope.ServiceProvider.GetRequiredService<ClinicContext>(), cancel);
        using var writer = new BackupWriter(target, key);
        var madeAt = clock.GetUtcNow();
        var historyKeys = await snapshot.HistoryKeysAsync(cancel);
        var heads = await snapshot.HeadsAsync(cancel);
        var (all, tables) = (snapshot.Tables, new List<BackupTable>());
        foreach (var table in all)
        {
            progress.Begin($"Writing part {tables.Count + 1} of {all.Count}");
            tables.Add(await snapshot.ReadAsync(table, rows => writer.AddAsync(table, rows, progress, cancel), cancel));
            progress.Say($"{table.Name}: {tables[^1].Rows:N0} rows");
        }

        writer.Finish(new BackupManifest(BackupManifest.PresentFormat, madeAt, snapshot.Database, snapshot.Schema, historyKeys, heads, tables));
        progress.Say($"Reading it back …");
        using (var reader = BackupReader.Open(BackupWriter.PartOf(target), key))
        {
            reader.CheckRows(progress, cancel);
        }

        writer.Publish();
    }
}
