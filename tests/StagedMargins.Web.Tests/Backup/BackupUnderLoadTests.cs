using StagedMargins.Web.Tests.Faults;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Backup;

/// <summary>A backup is taken while writers go on: each case in it is whole, and all that was answered before it began is there.</summary>
public abstract class BackupUnderLoadTests(ClinicInstallation place, PostgresServer server)
{
    private const int Writers = 6;

    [Fact]
    public async Task A_backup_under_load_has_every_write_answered_before_it_and_nothing_by_half()
    {
        await using var service = await place.Program.StartAsync();
        var surgeon = await place.Program.Stranger.SignInAsync(TestClinic.SurgeonEmail, TestClinic.Password);
        var writers = Enumerable.Range(0, Writers).Select(_ => new Writer(surgeon)).ToList();
        using var stop = new CancellationTokenSource();
        var writing = Task.WhenAll(writers.Select(writer => writer.RunAsync(stop.Token)));
        for (var round = 0; round < LongRun.Times(1, 10); round++)
        {
            await UntilAnsweredAsync(writers, 50 * (round + 1));
            var before = writers.SelectMany(writer => writer.Changes.ToArray()).ToList();
            var file = Path.Combine(place.Program.Folder, $"{place.Engine}-{round}.zip");
            var backup = await place.Program.RunAsync("backup", "--to", file);
            backup.Code.ShouldBe(0, backup.Output + backup.Errors);
            var during = writers.Sum(writer => writer.Acknowledged.Count);
            await ExpectAllAsync(file, before);
            LongRun.Say($"{place.Engine}: {before.Sum(one => one.Value)} changes of {before.Count} cases answered before the backup, {during} writes answered when it was done");
        }

        await stop.CancelAsync();
        await writing;
        writers.ShouldAllBe(writer => !writer.IsGone && writer.Away.Count == 0);
    }

    private async Task ExpectAllAsync(string file, List<KeyValuePair<string, int>> before)
    {
        await using var target = await TestDatabase.EmptyAsync(place.Engine, server);
        await using var program = new Installation(new Dictionary<string, string>(target.Settings) { ["History:KeyFile"] = place.Program.HistoryKeyFile });
        var restored = await program.RunAsync("restore", "--from", file);
        restored.Code.ShouldBe(0, restored.Output + restored.Errors);
        await using var db = target.NewContext();
        var there = Microsoft.EntityFrameworkCore.EntityFrameworkQueryableExtensions.IgnoreQueryFilters(db.Ledger)
            .GroupBy(row => row.SubjectId!.Value).Select(rows => new { Id = rows.Key, Count = rows.Count() }).ToDictionary(row => row.Id.ToString(), row => row.Count);
        before.ShouldAllBe(one => there.GetValueOrDefault(one.Key) >= one.Value);
    }

    private static async Task UntilAnsweredAsync(List<Writer> writers, int count)
    {
        for (var waited = 0; writers.Sum(writer => writer.Acknowledged.Count) < count; waited++)
        {
            waited.ShouldBeLessThan(6000, "The writers do not get on.");
            await Task.Delay(10, TestContext.Current.CancellationToken);
        }
    }
}

/// <summary>On a SQLite file.</summary>
public sealed class BackupUnderLoadOnSqlite(SqliteInstallation place, PostgresServer server) : BackupUnderLoadTests(place, server), IClassFixture<SqliteInstallation>;

/// <summary>On PostgreSQL.</summary>
public sealed class BackupUnderLoadOnPostgres(PostgresInstallation place, PostgresServer server) : BackupUnderLoadTests(place, server), IClassFixture<PostgresInstallation>;
