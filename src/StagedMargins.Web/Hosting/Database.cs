using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using SQLitePCL;
using StagedMargins.Storage;
using StagedMargins.Storage.Cases;
using StagedMargins.Storage.Postgres;
using StagedMargins.Storage.Sqlite;
using StagedMargins.Web.Writing;
using StagedMargins.Storage.Ledger;

namespace StagedMargins.Web.Hosting;

/// <summary>The database by settings: <c>Database:Provider</c> is Sqlite (default) or Postgres, <c>ConnectionStrings:Default</c> says where.</summary>
public static class Database
{
    // A change of the tables of a large record.
    private static readonly TimeSpan LongestChange = TimeSpan.FromMinutes(30);

    /// <summary>Adds the record, and readies its place.</summary>
    /// <param name="services">The services.</param>
    /// <param name="settings">The settings.</param>
    /// <param name="fileName">The SQLite file in the user's data folder, where no connection string is set.</param>
    /// <param name="isService">True for the service, for whose answers people wait; false for a task.</param>
    /// <exception cref="StartFailureException">A setting is wrong.</exception>
    public static void AddDatabase(this IServiceCollection services, IConfiguration settings, string fileName, bool isService)
    {
        var provider = settings["Database:Provider"] ?? "Sqlite";
        var connection = settings.GetConnectionString("Default");
        services.AddScoped(provider => new ClinicScope { FindKeys = provider.GetRequiredService<SubjectKeys>, FindMemory = provider.GetRequiredService<CaseMemory>, FindChangeEntries = provider.GetRequiredService<ChangeEntries> });
        services.AddScoped(provider =>
        {
            var db = provider.GetRequiredService<IDbContextFactory<ClinicContext>>().CreateDbContext();
            db.Scope = provider.GetRequiredService<ClinicScope>();
            return db;
        });
        services.AddSingleton<CaseEvents>();
        services.AddSingleton<HeadLimiter>();
        services.AddSingleton<CaseMemory>();
        services.AddSingleton<AnswerMemory>();
        services.AddSingleton<PresentClinics>();
        switch (provider.ToUpperInvariant())
        {
            case "SQLITE":
                var file = SqliteConnection(connection, fileName);
                services.AddPooledDbContextFactory<ClinicContext>(options => SqliteDatabase.Use(options, file));
                break;
            case "POSTGRES" when !string.IsNullOrWhiteSpace(connection):
                services.AddPooledDbContextFactory<ClinicContext>(options => PostgresDatabase.Use(options, connection, isService));
                services.AddHostedService<PostgresEvents>();
                break;
            case "POSTGRES":
                throw new StartFailureException("Database:Provider is Postgres, but ConnectionStrings:Default is not set.");
            default:
                throw new StartFailureException($"Database:Provider is '{provider}'; it must be Sqlite or Postgres.");
        }
    }

    /// <summary>Brings the tables up to date; the caller has the <see cref="StartupLock"/>.</summary>
    public static async Task MigrateAsync(IServiceProvider services)
    {
        await using var scope = services.CreateAsyncScope();
        await using var db = TableOwner.Open(scope.ServiceProvider);
        db.Database.SetCommandTimeout(LongestChange);
        await GuardKnownAsync(db, CancellationToken.None);
        if (db.Database.IsSqlite())
        {
            await MigrateFileAsync(db);
        }
        else
        {
            await db.Database.MigrateAsync();
            await TableOwner.GrantAsync(scope.ServiceProvider, db);
        }
    }

    /// <summary>Refuses to work on a record that is not there, or that this version would have to change first.</summary>
    /// <exception cref="StartFailureException">It is so.</exception>
    public static async Task GuardPresentAsync(ClinicContext db, CancellationToken cancel)
    {
        if (db.Database.IsSqlite() && new SqliteConnectionStringBuilder(db.Database.GetConnectionString()).DataSource is var file && !File.Exists(file))
        {
            throw new StartFailureException($"There is no record at {file}. Check ConnectionStrings:Default.");
        }

        await GuardKnownAsync(db, cancel);
        if ((await db.Database.GetPendingMigrationsAsync(cancel)).Any())
        {
            throw new StartFailureException("This record was made by an earlier version of the program, or does not exist yet. Use that version, or start the service once to bring the record up to date.");
        }
    }

    // An older program would write what a newer one no longer understands, and take no notice of what it does not know.
    private static async Task GuardKnownAsync(ClinicContext db, CancellationToken cancel)
    {
        if ((await db.Database.GetAppliedMigrationsAsync(cancel)).Except(db.Database.GetMigrations()).Any())
        {
            throw new StartFailureException("This record was written by a newer version of the program, or by one from before the record was a ledger. Use that version; nothing was changed.");
        }
    }

    /// <summary>Refuses a record whose entries this version would misread.</summary>
    /// <exception cref="StartFailureException">It is so.</exception>
    internal static async Task GuardLevelAsync(ClinicContext db, CancellationToken cancel)
    {
        if (await db.LedgerHeads.IgnoreQueryFilters().AnyAsync(head => head.MinReader > LedgerLevel.Present, cancel))
        {
            throw new StartFailureException("A newer version of the program wrote this record in forms that this version would misread. Use that version; nothing was changed.");
        }
    }

    // The framework marks a SQLite file as being migrated by a row, which a killed process leaves behind for ever, at its very
    // first step too. A turn goes with its process, so whoever has it may take the row away.
    private static async Task MigrateFileAsync(ClinicContext db)
    {
        var file = new SqliteConnectionStringBuilder(db.Database.GetConnectionString()).DataSource;
        if (File.Exists(file))
        {
            await db.Database.ExecuteSqlAsync($"DROP TABLE IF EXISTS \"__EFMigrationsLock\"");
        }

        if ((await db.Database.GetPendingMigrationsAsync()).Any())
        {
            await db.Database.MigrateAsync();
        }

        // Asked for itself: where nothing is to be brought up to date, nothing before this has written.
        await db.Database.OpenConnectionAsync();
        if (raw.sqlite3_db_readonly(((SqliteConnection)db.Database.GetDbConnection()).Handle, "main") != 0)
        {
            throw new StartFailureException($"The record at {file} can only be read. Let the service's account write the file and its folder.");
        }

        // Set by the framework for a file that it makes, unless it was killed just then.
        await db.Database.ExecuteSqlAsync($"PRAGMA journal_mode = wal");
    }

    private static string SqliteConnection(string? connection, string fileName)
    {
        var builder = new SqliteConnectionStringBuilder(connection ?? $"Data Source={Path.Combine(DataFolder.Path(), fileName)}");
        if (string.IsNullOrEmpty(builder.DataSource) || builder.Mode == SqliteOpenMode.Memory || builder.DataSource == ":memory:")
        {
            throw new StartFailureException("ConnectionStrings:Default must name a SQLite file, for example Data Source=/var/lib/stagedmargins/record.db.");
        }

        if (Path.GetDirectoryName(Path.GetFullPath(builder.DataSource)) is { } folder)
        {
            Directory.CreateDirectory(folder);
        }

        builder.DataSource = Path.GetFullPath(builder.DataSource);
        builder.ForeignKeys = true;
        return builder.ToString();
    }
}
