using System.Data;
using System.Data.Common;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Storage;

namespace StagedMargins.Web.Hosting;

/// <summary>Lets several queries see the record as it stood at one moment. Writers are neither waited for nor held up.</summary>
internal static class ReadSnapshot
{
    /// <summary>Reads within one moment; within the transaction of the caller, where there is one.</summary>
    internal static async Task<T> InReadSnapshotAsync<T>(this ClinicContext db, Func<Task<T>> read, CancellationToken cancel)
    {
        if (db.Database.CurrentTransaction is not null)
        {
            return await read();
        }

        await db.Database.OpenConnectionAsync(cancel);
        try
        {
            await using var moment = await BeginAsync(db.Database.GetDbConnection(), cancel);
            await using var shared = await db.Database.UseTransactionAsync(moment, cancel);
            return await read();
        }
        finally
        {
            await db.Database.CloseConnectionAsync();
        }
    }

    /// <summary>Begins a transaction that sees one moment.</summary>
    /// <param name="connection">An open connection.</param>
    /// <param name="cancel">Ends the wait.</param>
    // A deferred transaction of SQLite reads one state of the write-ahead log and takes no lock that a writer needs.
    internal static async Task<DbTransaction> BeginAsync(DbConnection connection, CancellationToken cancel) => connection is SqliteConnection sqlite
        ? sqlite.BeginTransaction(deferred: true)
        : await connection.BeginTransactionAsync(IsolationLevel.RepeatableRead, cancel);
}
