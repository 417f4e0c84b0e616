using System.Data.Common;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Npgsql;
using StagedMargins.Storage;
using StagedMargins.Storage.Ledger;
using StagedMargins.Storage.Postgres;
using StagedMargins.Storage.Sqlite;

namespace StagedMargins.Web.Tests.Testing;

/// <summary>The databases that everything is tested on.</summary>
public enum Engine
{
    Sqlite,
    Postgres,
}

/// <summary>A fresh database, gone when it is disposed of: a SQLite file in a folder of its own, or a database of the real PostgreSQL.</summary>
public sealed class TestDatabase : IAsyncDisposable
{
    // Files in memory where there is room: what is tested is what the service does, and a disk's own waits are none of it.
    private static readonly string Place = new DriveInfo("/dev/shm") is { IsReady: true, AvailableFreeSpace: > 1L << 30 } memory ? memory.Name : Path.GetTempPath();

    private readonly Func<Task> remove;
    private readonly string historyKeys;

    private TestDatabase(Engine engine, string connection, string historyKeys, Func<Task> remove)
    {
        (Engine, Connection, this.historyKeys, this.remove) = (engine, connection, historyKeys, remove);
    }

    /// <summary>Which engine.</summary>
    public Engine Engine { get; }

    /// <summary>The connection string that the service is given.</summary>
    public string Connection { get; }

    /// <summary>The settings that point the service at it, with the keys that seal its histories.</summary>
    public IReadOnlyDictionary<string, string> Settings => new Dictionary<string, string>
    {
        ["Database:Provider"] = Engine.ToString(),
        ["ConnectionStrings:Default"] = Connection,
        ["History:Keys"] = historyKeys,
    };

    /// <summary>The same settings as variables of an environment.</summary>
    public Dictionary<string, string> Environment() => Settings.ToDictionary(setting => setting.Key.Replace(":", "__", StringComparison.Ordinal), setting => setting.Value);

    /// <summary>A database without tables; the service makes them.</summary>
    public static Task<TestDatabase> EmptyAsync(Engine engine, PostgresServer server) => MakeAsync(engine, server, LedgerKeys.NewLine("test"), template: null);

    /// <summary>A copy of this database, which nobody may be connected to, with the same history keys.</summary>
    public Task<TestDatabase> CopyAsync(PostgresServer server) => MakeAsync(Engine, server, historyKeys, template: this);

    /// <summary>Ends every connection, so that it can be copied.</summary>
    public async Task CloseAsync()
    {
        if (Engine == Engine.Sqlite)
        {
            await ExecuteAsync("PRAGMA wal_checkpoint(TRUNCATE)");
            SqliteConnection.ClearAllPools();
        }
        else
        {
            NpgsqlConnection.ClearAllPools();
        }
    }

    private static async Task<TestDatabase> MakeAsync(Engine engine, PostgresServer server, string historyKeys, TestDatabase? template)
    {
        var name = $"margins_{Guid.NewGuid():N}";
        if (engine == Engine.Postgres)
        {
            await server.CreateAsync(name, template is null ? null : new NpgsqlConnectionStringBuilder(template.Connection).Database);
            return new TestDatabase(engine, await server.ConnectionToAsync(name), historyKeys, () => server.DropAsync(name));
        }

        var folder = Directory.CreateDirectory(Path.Combine(Place, name));
        var file = Path.Combine(folder.FullName, "record.db");
        if (template is not null)
        {
            File.Copy(new SqliteConnectionStringBuilder(template.Connection).DataSource, file);
        }

        return new TestDatabase(engine, $"Data Source={file}", historyKeys, () =>
        {
            SqliteConnection.ClearAllPools();
            folder.Delete(recursive: true);
            return Task.CompletedTask;
        });
    }

    /// <summary>A connection of its own, open.</summary>
    public async Task<DbConnection> OpenAsync()
    {
        DbConnection connection = Engine == Engine.Sqlite ? new SqliteConnection(Connection) : new NpgsqlConnection(Connection);
        await connection.OpenAsync();
        return connection;
    }

    /// <summary>The record as the service sees it, without a clinic in scope.</summary>
    public ClinicContext NewContext(Guid clinicId = default)
    {
        var options = new DbContextOptionsBuilder<ClinicContext>();
        if (Engine == Engine.Sqlite)
        {
            SqliteDatabase.Use(options, Connection);
        }
        else
        {
            PostgresDatabase.Use(options, Connection);
        }

        return new ClinicContext(options.Options) { Scope = new ClinicScope { ClinicId = clinicId, FindKeys = () => new SubjectKeys(LedgerKeys.Parse(historyKeys)) } };
    }

    /// <summary>The first column of every row that a statement gives.</summary>
    public async Task<IReadOnlyList<T>> QueryAsync<T>(string sql)
    {
        await using var connection = await OpenAsync();
        await using var command = connection.CreateCommand();
        command.CommandText = sql;
        await using var reader = await command.ExecuteReaderAsync();
        var rows = new List<T>();
        while (await reader.ReadAsync())
        {
            rows.Add(reader.GetFieldValue<T>(0));
        }

        return rows;
    }

    /// <summary>Runs a statement that gives no rows.</summary>
    public async Task ExecuteAsync(string sql)
    {
        await using var connection = await OpenAsync();
        await using var command = connection.CreateCommand();
        command.CommandText = sql;
        await command.ExecuteNonQueryAsync();
    }

    /// <summary>
    /// How much is written: the rows of every table, and the numbers of the last entries, which no write of a case leaves as
    /// they were. The access log is left out: it is written behind every reader's back.
    /// </summary>
    public async Task<IReadOnlyDictionary<string, long>> WrittenAsync()
    {
        await using var db = NewContext();
        var tables = db.Model.GetEntityTypes().Select(type => type.GetTableName()!).Where(table => table is not ("access_log" or "ledger_heads")).Distinct().Order().ToList();
        string[] counts =
        [
            .. tables.Select(table => $"SELECT count(*) FROM \"{table}\"{(table == "ledger_entries" ? " WHERE stream = 'record'" : "")}"),
            "SELECT coalesce(sum(number), 0) FROM ledger_heads WHERE stream = 'record'",
            "SELECT count(*) FROM ledger_entries WHERE subject_kind = 'case'",
        ];
        var totals = await QueryAsync<long>($"SELECT total FROM ({string.Join(" UNION ALL ", counts.Select((count, i) => $"SELECT {i} AS place, ({count}) AS total"))}) AS counts ORDER BY place");
        return tables.Concat(["versions", "entries of cases"]).Zip(totals).ToDictionary(pair => pair.First, pair => pair.Second);
    }

    /// <summary>The entries of a case, in order.</summary>
    public async Task<IReadOnlyList<LedgerRow>> EntriesAsync(string caseId)
    {
        await using var db = NewContext();
        return await db.Ledger.IgnoreQueryFilters().AsNoTracking().Where(entry => entry.SubjectId == Guid.Parse(caseId)).OrderBy(entry => entry.SubjectNumber).ToListAsync();
    }

    public async ValueTask DisposeAsync() => await remove();
}
