using System.Data.Common;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Storage;
using StagedMargins.Storage.Ledger;
using StagedMargins.Web.Hosting;

namespace StagedMargins.Web.Backup;

/// <summary>The record as it stands at one moment, read while others go on writing.</summary>
internal sealed class RecordSnapshot : IAsyncDisposable
{
    private readonly DbTransaction transaction;
    private readonly ClinicContext db;

    private RecordSnapshot(ClinicContext db, DbTransaction transaction)
    {
        (this.db, this.transaction) = (db, transaction);
    }

    /// <summary>Which database holds it.</summary>
    internal string Database => db.Database.IsSqlite() ? "Sqlite" : "Postgres";

    /// <summary>The changes of the tables that the record has seen, oldest first.</summary>
    internal IReadOnlyList<string> Schema => SchemaSteps.Names(db.Database.GetMigrations());

    /// <summary>Its tables.</summary>
    internal IReadOnlyList<BackupTable> Tables => RecordTables.Of(db.Model);

    /// <summary>Takes it. Writers are neither waited for nor held up.</summary>
    /// <exception cref="StartFailureException">There is no record, or one of an earlier version.</exception>
    internal static async Task<RecordSnapshot> TakeAsync(ClinicContext db, CancellationToken cancel)
    {
        await Hosting.Database.GuardPresentAsync(db, cancel);
        await db.Database.OpenConnectionAsync(cancel);
        return new RecordSnapshot(db, await ReadSnapshot.BeginAsync(db.Database.GetDbConnection(), cancel));
    }

    /// <summary>The names of the keys that sealed its histories.</summary>
    internal Task<IReadOnlyList<string>> HistoryKeysAsync(CancellationToken cancel) => ReadAsync<IReadOnlyList<string>>(
        "SELECT DISTINCT key_id FROM ledger_entries ORDER BY key_id",
        async rows =>
        {
            var keys = new List<string>();
            while (await rows.ReadAsync(cancel))
            {
                keys.Add(rows.GetString(0));
            }

            return keys;
        },
        cancel);

    /// <summary>The end of each stream of the ledger.</summary>
    internal async Task<IReadOnlyList<string>> HeadsAsync(CancellationToken cancel)
    {
        await db.Database.UseTransactionAsync(transaction, cancel);
        var heads = await db.LedgerHeads.IgnoreQueryFilters().AsNoTracking().ToListAsync(cancel);
        await db.Database.UseTransactionAsync(null, cancel);
        return [.. heads.Select(head => LedgerAnchor.Of(head).ToString()).Order(StringComparer.Ordinal)];
    }

    /// <summary>Hands over the rows of a table, one after another as they are taken.</summary>
    internal Task<BackupTable> ReadAsync(BackupTable table, Func<DbDataReader, Task<BackupTable>> take, CancellationToken cancel) =>
        ReadAsync($"SELECT {string.Join(", ", table.Columns.Select(column => $"\"{column.Name}\""))} FROM \"{table.Name}\"", take, cancel);

    public async ValueTask DisposeAsync()
    {
        await transaction.DisposeAsync();
        await db.Database.CloseConnectionAsync();
    }

    private async Task<T> ReadAsync<T>(string sql, Func<DbDataReader, Task<T>> take, CancellationToken cancel)
    {
        await using var command = transaction.Connection!.CreateCommand();
        (command.CommandText, command.Transaction, command.CommandTimeout) = (sql, transaction, 0);
        await using var rows = await command.ExecuteReaderAsync(cancel);
        return await take(rows);
    }
}
