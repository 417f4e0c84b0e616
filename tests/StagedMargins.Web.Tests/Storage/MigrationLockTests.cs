using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Storage;

/// <summary>
/// A start that is killed while it makes the tables of a SQLite file leaves the framework's lock behind; the next start must not
/// wait for it.
/// </summary>
public sealed class MigrationLockTests(PostgresServer server)
{
    private const string LeftBehind = """
        CREATE TABLE "__EFMigrationsLock" ("Id" INTEGER NOT NULL CONSTRAINT "PK___EFMigrationsLock" PRIMARY KEY, "Timestamp" TEXT NOT NULL);
        INSERT INTO "__EFMigrationsLock" ("Id", "Timestamp") VALUES (1, '2026-03-03 09:10:00');
        """;

    [Fact]
    public async Task A_lock_left_in_a_file_without_tables_does_not_hold_the_next_start()
    {
        await using var database = await TestDatabase.EmptyAsync(Engine.Sqlite, server);
        await database.ExecuteAsync(LeftBehind);
        await StartsAsync(database);
    }

    [Fact]
    public async Task A_lock_left_in_a_finished_file_does_not_hold_the_next_start()
    {
        await using var database = await TestDatabase.EmptyAsync(Engine.Sqlite, server);
        await StartsAsync(database);
        await database.ExecuteAsync($"""DROP TABLE IF EXISTS "__EFMigrationsLock"; {LeftBehind}""");
        await StartsAsync(database);
    }

    [Fact]
    public async Task A_lock_left_between_two_migrations_does_not_hold_the_next_start()
    {
        await using var database = await TestDatabase.EmptyAsync(Engine.Sqlite, server);
        await StartsAsync(database);

        // As a start leaves a file that it was killed in before its last migration.
        await database.ExecuteAsync($"""DROP TABLE IF EXISTS "__EFMigrationsLock"; {LeftBehind}""");
        var applied = await database.QueryAsync<string>("""SELECT migration_id FROM "__EFMigrationsHistory" ORDER BY 1""");
        applied.ShouldNotBeEmpty();
        await StartsAsync(database);
        (await database.QueryAsync<string>("""SELECT migration_id FROM "__EFMigrationsHistory" ORDER BY 1""")).ShouldBe(applied);
    }

    private static async Task StartsAsync(TestDatabase database)
    {
        await using var host = await Task.Run(() => ServiceHost.Start(database)).WaitAsync(TimeSpan.FromSeconds(60), TestContext.Current.CancellationToken);
        (await host.Stranger().GetAsync("/health/ready")).Expect(200);
    }
}
