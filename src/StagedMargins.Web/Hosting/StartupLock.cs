using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Infrastructure;
using Microsoft.EntityFrameworkCore.Storage;
using Npgsql;
using StagedMargins.Storage;

namespace StagedMargins.Web.Hosting;

/// <summary>
/// Lets copies of the service ready one record one after another, so that two first starts at once do not both make its tables,
/// its keys and its roles. The turn ends with its process, however that ends.
/// </summary>
public static class StartupLock
{
    // Longer than loading the demo clinic takes on a slow machine.
    private const int LongestWaitSeconds = 300;

    // Of this program alone; any other number would do.
    private const long TurnOnServer = 7_380_214_055;

    private static readonly TimeSpan Pause = TimeSpan.FromMilliseconds(100);

    /// <summary>Waits for the turn and keeps it until disposed.</summary>
    /// <param name="services">The services.</param>
    /// <exception cref="IOException">The folder of the SQLite file can't be written, or the copy before does not get ready.</exception>
    public static async Task<IAsyncDisposable> TakeAsync(IServiceProvider services)
    {
        await using var scope = services.CreateAsyncScope();
        await using var db = TableOwner.Open(scope.ServiceProvider);
        return db.Database.IsSqlite()
            ? await AtFileAsync($"{new SqliteConnectionStringBuilder(db.Database.GetConnectionString()).DataSource}.starting")
            : await OnServerAsync(db);
    }

    private static async Task<FileStream> AtFileAsync(string path)
    {
        for (var waited = TimeSpan.Zero; ; waited += Pause)
        {
            try
            {
                return new FileStream(path, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None, 1, FileOptions.DeleteOnClose);
            }
            catch (IOException) when (waited.TotalSeconds < LongestWaitSeconds && File.Exists(path))
            {
                await Task.Delay(Pause);
            }
        }
    }

    private static async Task<NpgsqlConnection> OnServerAsync(ClinicContext db)
    {
        await MakeDatabaseAsync(db.GetService<IRelationalDatabaseCreator>());
        var given = new NpgsqlConnectionStringBuilder(db.Database.GetConnectionString()) { Pooling = false, CommandTimeout = LongestWaitSeconds };
        var connection = new NpgsqlConnection(given.ToString());
        await connection.OpenAsync();
        await using var command = new NpgsqlCommand("SELECT pg_advisory_lock($1)", connection) { Parameters = { new() { Value = TurnOnServer } } };
        await command.ExecuteNonQueryAsync();
        return connection;
    }

    private static async Task MakeDatabaseAsync(IRelationalDatabaseCreator creator)
    {
        if (!await creator.ExistsAsync())
        {
            try
            {
                await creator.CreateAsync();
            }
            catch (PostgresException e) when (e.SqlState is PostgresErrorCodes.DuplicateDatabase or PostgresErrorCodes.UniqueViolation)
            {
                // Another copy has made it at the same moment.
            }
        }
    }
}
