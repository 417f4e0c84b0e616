using System.Diagnostics;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Faults;

/// <summary>
/// The process is killed at random moments under load and started again. What was answered is there, nothing is there by half,
/// and nobody has to lend a hand.
/// </summary>
public abstract class KillTests(ClinicInstallation place, PostgresServer server)
{
    private const int Writers = 6;

    [Fact]
    public async Task What_was_answered_outlives_a_kill_at_any_moment()
    {
        var random = new Random(LongRun.Seed());
        var kills = LongRun.Times(3, 50);
        var (answered, inDoubt, wasKept, longestStart) = (0, 0, 0, TimeSpan.Zero);
        var service = await place.Program.StartAsync();
        var surgeon = await place.Program.Stranger.SignInAsync(TestClinic.SurgeonEmail, TestClinic.Password);
        var writers = Enumerable.Range(0, Writers).Select(_ => new Writer(surgeon)).ToList();
        for (var kill = 0; kill < kills; kill++)
        {
            var writing = writers.Select(writer => writer.RunAsync(CancellationToken.None)).ToList();
            await AnsweredAsync(writers, writing, random.Next(1, 80));
            await Task.Delay(random.Next(0, 30), TestContext.Current.CancellationToken);
            await service.KillAsync();
            await Task.WhenAll(writing);

            var start = Stopwatch.StartNew();
            service = await place.Program.StartAsync();
            longestStart = start.Elapsed > longestStart ? start.Elapsed : longestStart;
            var signedIn = await place.Program.Stranger.SignInAsync(TestClinic.SurgeonEmail, TestClinic.Password);
            foreach (var writer in writers)
            {
                writer.Surgeon = signedIn;
                inDoubt += writer.IsInDoubt ? 1 : 0;
                wasKept += await writer.SettleAsync() ? 1 : 0;
                answered += writer.Acknowledged.Count;
                await writer.ReplayAsync();
                await writer.CheckCasesAsync();
            }

            var verified = await place.Program.RunAsync("verify");
            verified.Code.ShouldBe(0, verified.Output + verified.Errors);
        }

        LongRun.Say($"{place.Engine}: {kills} kills, {answered} writes answered and found again, {inDoubt} in doubt of which {wasKept} had been kept, longest start {longestStart.TotalSeconds:0.0} s");
        answered.ShouldBeGreaterThan(kills);
        await service.DisposeAsync();
    }

    // A moment by chance, counted in writes, so that it falls under load on a slow machine and on a fast one.
    private static async Task AnsweredAsync(List<Writer> writers, List<Task> writing, int count)
    {
        for (var waited = 0; writers.Sum(writer => writer.Acknowledged.Count) < count; waited++)
        {
            waited.ShouldBeLessThan(12_000, "The writers do not get on.");
            if (writing.Find(task => task.IsFaulted) is { } failed)
            {
                await failed;
            }

            await Task.Delay(5, TestContext.Current.CancellationToken);
        }
    }

    [Fact]
    public async Task A_start_killed_at_any_moment_does_not_hinder_the_next()
    {
        var random = new Random(LongRun.Seed());
        await using var database = await TestDatabase.EmptyAsync(place.Engine, server);
        await using var program = new Installation(database.Settings);
        for (var kill = 0; kill < LongRun.Times(3, 40); kill++)
        {
            await using var killed = program.Launch();
            await Task.Delay(random.Next(0, 3000), TestContext.Current.CancellationToken);
        }

        await using var service = program.StartHost();
        await using var db = database.NewContext();
        (await db.Database.GetPendingMigrationsAsync(TestContext.Current.CancellationToken)).ShouldBeEmpty();
    }
}

/// <summary>On a SQLite file.</summary>
[RunsFirst]
public sealed class KillTestsOnSqlite(SqliteInstallation place, PostgresServer server) : KillTests(place, server), IClassFixture<SqliteInstallation>
{
    private readonly PostgresServer server = server;
    private readonly SqliteInstallation place = place;

    // With less, a write-ahead log may lose answered writes when the power fails (sqlite.org/pragma.html#pragma_synchronous).
    [Fact]
    public async Task Each_write_is_on_the_disk_before_it_is_answered() =>
        (await place.Database.QueryAsync<long>("PRAGMA synchronous")).ShouldBe([2L]);

    [Fact]
    public async Task A_lock_left_by_a_start_killed_at_its_first_step_does_not_hold_up_the_next()
    {
        await using var database = await TestDatabase.EmptyAsync(Engine.Sqlite, server);
        await database.ExecuteAsync("""
            CREATE TABLE "__EFMigrationsLock" ("Id" INTEGER NOT NULL CONSTRAINT "PK___EFMigrationsLock" PRIMARY KEY, "Timestamp" TEXT NOT NULL);
            INSERT INTO "__EFMigrationsLock" VALUES (1, '2026-03-03 09:10:00');
            """);
        await using var program = new Installation(database.Settings);
        await using var service = program.StartHost();

        // Two in both places of the file's header says that it has a write-ahead log (sqlite.org/fileformat2.html, §1.3.3).
        var header = new byte[20];
        await using var file = new FileStream(new SqliteConnectionStringBuilder(database.Connection).DataSource, FileMode.Open, FileAccess.Read, FileShare.ReadWrite);
        await file.ReadExactlyAsync(header, TestContext.Current.CancellationToken);
        header[18..].ShouldBe([2, 2]);
    }
}

/// <summary>On PostgreSQL.</summary>
[RunsFirst]
public sealed class KillTestsOnPostgres(PostgresInstallation place, PostgresServer server) : KillTests(place, server), IClassFixture<PostgresInstallation>;
