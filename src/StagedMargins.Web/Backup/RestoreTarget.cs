using System.Data.Common;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Infrastructure;
using Microsoft.EntityFrameworkCore.Migrations;
using Npgsql;
using StagedMargins.Storage;
using StagedMargins.Storage.Postgres;
using StagedMargins.Storage.Sqlite;
using StagedMargins.Storage.Ledger;

namespace StagedMargins.Web.Backup;

/// <summary>
/// An empty place that a record is restored into, in one transaction. For SQLite it is a file beside the wanted one, which gets its
/// name at the end; either way nobody sees half a record, and a restore that is killed leaves none.
/// </summary>
internal sealed class RestoreTarget : IAsyncDisposable
{
    private readonly DbConnection connection;
    private readonly string? file;
    private DbTransaction? transaction;

    private RestoreTarget(DbConnection connection, string? file)
    {
        (this.connection, this.file) = (connection, file);
    }

    /// <summary>Makes ready the place that the settings name.</summary>
    /// <exception cref="BackupException">It is not empty.</exception>
    internal static async Task<RestoreTarget> OpenAsync(ClinicContext configured, CancellationToken cancel)
    {
        var wanted = configured.Database.GetConnectionString()!;
        var file = configured.Database.IsSqlite() ? EmptyFile(new SqliteConnectionStringBuilder(wanted).DataSource) : null;
        DbConnection connection = file is null
            ? new NpgsqlConnection(wanted)
            : new SqliteConnection(new SqliteConnectionStringBuilder { DataSource = PartOf(file), Pooling = false, ForeignKeys = false }.ToString());
        var target = new RestoreTarget(connection, file);
        try
        {
            await target.BeginAsync(cancel);
            return target;
        }
        catch
        {
            await target.DisposeAsync();
            throw;
        }
    }

    /// <summary>A context that sees what is restored so far.</summary>
    /// <param name="clinicId">The clinic in scope.</param>
    /// <param name="findKeys">Gives the keys to what was written in words, where it is read.</param>
    /// <param name="findChangeEntries">Gives what writes the entries of changes, where something is changed.</param>
    internal ClinicContext Context(Guid clinicId, Func<SubjectKeys>? findKeys = null, Func<ChangeEntries>? findChangeEntries = null)
    {
        var options = new DbContextOptionsBuilder<ClinicContext>();
        if (file is null)
        {
            PostgresDatabase.Use(options, connection);
        }
        else
        {
            SqliteDatabase.Use(options, connection);
        }

        var db = new ClinicContext(options.Options) { Scope = new ClinicScope { ClinicId = clinicId, FindKeys = findKeys, FindChangeEntries = findChangeEntries } };
        db.Database.UseTransaction(transaction);
        return db;
    }

    /// <summary>Makes the tables, or changes them further.</summary>
    /// <param name="after">The last change made, or null where there is none.</param>
    /// <param name="upTo">The last change to make, or null for the latest.</param>
    /// <param name="cancel">Ends the work.</param>
    internal async Task ChangeTablesAsync(string? after, string? upTo, CancellationToken cancel)
    {
        await using var db = Context(Guid.Empty);
        var script = db.GetService<IMigrator>().GenerateScript(after, upTo, MigrationsSqlGenerationOptions.NoTransactions);
        if (script.Length > 0)
        {
            await ExecuteAsync(script, cancel);
        }
    }

    /// <summary>Puts rows into a table, and counts them there.</summary>
    /// <exception cref="BackupException">The table does not hold what was put in.</exception>
    internal async Task LoadAsync(BackupTable table, IEnumerable<object?[]> rows, Progress progress, CancellationToken cancel)
    {
        await using var command = Command($"INSERT INTO \"{table.Name}\" ({string.Join(", ", table.Columns.Select(column => $"\"{column.Name}\""))}) VALUES ({string.Join(", ", table.Columns.Select((_, i) => FormattableString.Invariant($"@p{i}")))})");
        var parameters = table.Columns.Select((column, i) => ColumnValues.Parameter(command, column, FormattableString.Invariant($"@p{i}"))).ToArray();
        command.Parameters.AddRange(parameters);
        if (file is null)
        {
            await command.PrepareAsync(cancel);
        }

        var count = 0L;
        foreach (var row in rows)
        {
            for (var i = 0; i < row.Length; i++)
            {
                parameters[i].Value = ColumnValues.ForParameter(row[i], parameters[i]);
            }

            await command.ExecuteNonQueryAsync(cancel);
            progress.Rows(table.Name, ++count);
        }

        if (await CountAsync($"SELECT count(*) FROM \"{table.Name}\"", cancel) != table.Rows)
        {
            throw new BackupException($"The table {table.Name} does not hold the rows written to it. Nothing was kept.");
        }
    }

    /// <summary>Checks that every row refers to rows that are there, and that new rows will get new numbers.</summary>
    /// <exception cref="BackupException">A row refers to one that is missing.</exception>
    internal async Task CloseTablesAsync(CancellationToken cancel)
    {
        if (file is null)
        {
            await ExecuteAsync(
                """
                DO $$ DECLARE made record; BEGIN
                  FOR made IN SELECT table_name, column_name FROM information_schema.columns WHERE table_schema = current_schema() AND is_identity = 'YES' LOOP
                    EXECUTE format('SELECT setval(pg_get_serial_sequence(%L, %L), coalesce(max(%I), 0) + 1, false) FROM %I', quote_ident(made.table_name), made.column_name, made.column_name, made.table_name);
                  END LOOP;
                END $$;
                """,
                cancel);
        }
        else if (await CountAsync("SELECT count(*) FROM pragma_foreign_key_check", cancel) > 0)
        {
            throw new BackupException("A row of this backup refers to one that is not in it. Nothing was kept.");
        }
    }

    /// <summary>Keeps what was restored.</summary>
    internal async Task PublishAsync(CancellationToken cancel)
    {
        await transaction!.CommitAsync(cancel);
        transaction = null;
        if (file is not null)
        {
            // As the service makes its files: readers and the writer then do not wait for each other.
            await ExecuteAsync("PRAGMA journal_mode = wal", cancel);
            await connection.CloseAsync();
            File.Move(PartOf(file), file, overwrite: false);
        }
    }

    public async ValueTask DisposeAsync()
    {
        try
        {
            // Closing undoes what was not committed.
            await connection.DisposeAsync();
        }
        finally
        {
            if (file is not null)
            {
                RemoveParts(file);
            }
        }
    }

    private async Task BeginAsync(CancellationToken cancel)
    {
        await connection.OpenAsync(cancel);
        transaction = await connection.BeginTransactionAsync(cancel);
        if (file is null && await CountAsync("SELECT count(*) FROM information_schema.tables WHERE table_schema = current_schema()", cancel) > 0)
        {
            throw new BackupException("This database is not empty. Create a new one, restore into it, and then point the service to it.");
        }
    }

    // A log left beside a file that was taken away would be played into the restored one.
    private static string EmptyFile(string file)
    {
        if (new[] { file, $"{file}-wal", $"{file}-shm", $"{file}-journal" }.FirstOrDefault(File.Exists) is { } present)
        {
            throw new BackupException($"{present} already exists. Move it and the files beside it away, or name another place with ConnectionStrings:Default.");
        }

        RemoveParts(file);
        return file;
    }

    private static string PartOf(string file) => $"{file}.restoring";

    private static void RemoveParts(string file)
    {
        foreach (var end in new[] { "", "-wal", "-shm", "-journal" })
        {
            File.Delete(PartOf(file) + end);
        }
    }

    private async Task ExecuteAsync(string sql, CancellationToken cancel)
    {
        await using var command = Command(sql);
        await command.ExecuteNonQueryAsync(cancel);
    }

    private async Task<long> CountAsync(string sql, CancellationToken cancel)
    {
        await using var command = Command(sql);
        return (long)(await command.ExecuteScalarAsync(cancel))!;
    }

    private DbCommand Command(string sql)
    {
        var command = connection.CreateCommand();
        (command.CommandText, command.Transaction, command.CommandTimeout) = (sql, transaction, 0);
        return command;
    }
}
