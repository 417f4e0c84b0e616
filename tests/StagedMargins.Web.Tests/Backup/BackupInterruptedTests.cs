using System.Text.Json.Nodes;
using StagedMargins.Web.Tests.Faults;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Backup;

/// <summary>The service ends, or is killed, while an administrator's backup is being taken.</summary>
public abstract class BackupInterruptedTests(ClinicInstallation installation) : IDisposable
{
    private readonly TempFolder home = new();
    private readonly TempFolder folder = new();

    public void Dispose()
    {
        home.Dispose();
        folder.Dispose();
        GC.SuppressFinalize(this);
    }

    [Fact]
    public async Task A_service_that_ends_while_it_takes_one_leaves_no_file_and_the_next_clears_what_a_killed_one_left()
    {
        await installation.Database.GrowAsync();
        await using (var killed = await BegunAsync())
        {
            await killed.KillAsync();
        }

        Directory.GetFiles(folder.Path, "*.part").Length.ShouldBe(1);
        await using (var stopped = await BegunAsync())
        {
            await stopped.TerminateAsync();
            (await stopped.ExitCodeAsync()).ShouldBe(0, stopped.Errors);
            stopped.Output.ShouldContain("was not finished because the service is stopping");
        }

        Directory.GetFileSystemEntries(folder.Path).ShouldBeEmpty();
    }

    // A service that has half written a backup.
    private async Task<ServiceProcess> BegunAsync()
    {
        var service = ServiceProcess.Start(home.Path, new Dictionary<string, string>(installation.Database.Environment()) { ["Backup__Folder"] = folder.Path }, "--urls", "http://127.0.0.1:0");
        var administrator = await (await service.StrangerAsync()).SignInAsync(TestClinic.AdministratorEmail, TestClinic.Password);
        var before = Directory.GetFiles(folder.Path, "*.part");
        (await administrator.PostAsync("/api/backups", new JsonObject())).Expect(202);
        while (!Directory.GetFiles(folder.Path, "*.part").Except(before).Any())
        {
            (await administrator.GetAsync("/api/backups")).Expect(200).At("running").ShouldBeJson("true");
        }

        return service;
    }
}

/// <summary>On a SQLite file.</summary>
public sealed class BackupInterruptedOnSqlite(SqliteInstallation installation) : BackupInterruptedTests(installation), IClassFixture<SqliteInstallation>;

/// <summary>On PostgreSQL.</summary>
public sealed class BackupInterruptedOnPostgres(PostgresInstallation installation) : BackupInterruptedTests(installation), IClassFixture<PostgresInstallation>;
