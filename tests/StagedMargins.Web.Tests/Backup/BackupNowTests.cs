using System.Globalization;
using System.Text.Json.Nodes;
using StagedMargins.Storage.People;
using StagedMargins.Web.Backup;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Backup;

/// <summary>Backups that an administrator takes while the service runs.</summary>
public abstract class BackupNowTests(TestClinic clinic) : IDisposable
{
    private const string Path = "/api/backups";
    private readonly TempFolder folder = new();

    public void Dispose()
    {
        folder.Dispose();
        GC.SuppressFinalize(this);
    }

    [Fact]
    public async Task A_backup_goes_into_the_folder_and_reads_back()
    {
        await using var host = Host();
        var administrator = await AdministratorAsync(host);
        await clinic.HalfReadCaseAsync();
        (await administrator.GetAsync(Path)).Expect(200).At("progress").ShouldBeNull();
        var begun = (await administrator.PostAsync(Path, new JsonObject())).Expect(202);
        begun.Header("Location").ShouldBe(Path);
        var done = await DoneAsync(administrator);

        var file = Directory.GetFiles(folder.Path).ShouldHaveSingleItem();
        done.Text("last.file").ShouldBe(System.IO.Path.GetFileName(file));
        done.At("last.bytes")!.GetValue<long>().ShouldBe(new FileInfo(file).Length);
        done.At("last.encrypted").ShouldBeJson("false");
        done.At("files")!.AsArray().Count.ShouldBe(1);
        done.At("failure").ShouldBeNull();
        done.At("obstacle").ShouldBeNull();
        done.Text("progress").ShouldContain(done.Text("last.file"));
        done.Body.ShouldNotContain(folder.Path);
        using var reader = BackupReader.Open(file, null);
        reader.CheckRows(new Progress(TextWriter.Null, TimeProvider.System), TestContext.Current.CancellationToken);
        reader.Manifest.Database.ShouldBe(clinic.Engine.ToString());
        reader.Manifest.Tables.Single(table => table.Name == "photographs").Rows.ShouldBe((await clinic.Database.QueryAsync<long>("SELECT count(*) FROM photographs"))[0]);
    }

    [Fact]
    public async Task A_backup_with_a_key_file_is_read_with_the_key_alone()
    {
        using var keys = new TempFolder();
        var keyFile = System.IO.Path.Combine(keys.Path, "backup.key");
        await File.WriteAllTextAsync(keyFile, Convert.ToBase64String(System.Security.Cryptography.RandomNumberGenerator.GetBytes(32)), TestContext.Current.CancellationToken);
        await using var host = Host(("Backup:KeyFile", keyFile));
        var administrator = await AdministratorAsync(host);
        (await administrator.PostAsync(Path, new JsonObject())).Expect(202);
        var done = await DoneAsync(administrator);
        done.At("last.encrypted").ShouldBeJson("true");
        done.At("files[0].encrypted").ShouldBeJson("true");
        var file = System.IO.Path.Combine(folder.Path, done.Text("last.file"));
        Should.Throw<BackupException>(() => BackupReader.Open(file, null));
        using var reader = BackupReader.Open(file, BackupKey.Read(keyFile));
        reader.CheckRows(new Progress(TextWriter.Null, TimeProvider.System), TestContext.Current.CancellationToken);
    }

    [Fact]
    public async Task A_second_is_refused_while_one_is_taken_and_what_is_said_of_it_counts_no_rows()
    {
        await clinic.Database.GrowAsync();
        await using var host = Host();
        var administrator = await AdministratorAsync(host);
        (await administrator.PostAsync(Path, new JsonObject())).Expect(202).At("running").ShouldBeJson("true");
        (await administrator.PostAsync(Path, new JsonObject())).ExpectProblem(409).Text("detail").ShouldContain("already in progress");
        var during = (await administrator.GetAsync(Path)).Expect(200);
        during.At("running").ShouldBeJson("true");
        during.At("startedAt").ShouldNotBeNull();
        during.Text("progress").ShouldMatch(@"\A(Beginning|Writing part \d+ of \d+|Reading back part \d+ of \d+)(, \d+\.\d [kM]B so far)? …\z");
        during.At("files")!.AsArray().ShouldBeEmpty();
        (await DoneAsync(administrator)).At("last").ShouldNotBeNull();
        Directory.GetFiles(folder.Path).Length.ShouldBe(1);
        (await administrator.PostAsync(Path, new JsonObject())).Expect(202);
        await DoneAsync(administrator);
        Directory.GetFiles(folder.Path).Length.ShouldBe(2);
    }

    [Fact]
    public async Task Without_a_folder_none_is_taken_and_the_answer_says_what_to_set()
    {
        var refused = (await clinic.Administrator.PostAsync(Path, new JsonObject())).ExpectProblem(409);
        refused.Text("detail").ShouldContain("Backup:Folder");
        refused.Text("detail").ShouldContain("backup --to");
        var state = (await clinic.Administrator.GetAsync(Path)).Expect(200);
        state.Text("obstacle").ShouldContain("Backup:Folder");
        state.At("running").ShouldBeJson("false");
    }

    [Fact]
    public async Task Nobody_but_an_administrator_takes_or_sees_one()
    {
        await using var host = Host();
        foreach (var role in Roles.All.Where(role => role != Roles.Administrator))
        {
            var caller = host.Stranger().With(clinic.WithRole(role).Token);
            (await caller.PostAsync(Path, new JsonObject())).ExpectProblem(403);
            (await caller.GetAsync(Path)).ExpectProblem(403);
        }

        (await host.Stranger().PostAsync(Path, new JsonObject())).ExpectProblem(401);
        Directory.GetFileSystemEntries(folder.Path).ShouldBeEmpty();
    }

    [Fact]
    public async Task Another_system_with_an_administrator_s_token_takes_one()
    {
        await using var host = Host();
        var token = (await clinic.Administrator.PostAsync("/api/tokens", Some.Json($$"""{ "name": "Nightly {{Guid.NewGuid():N}}", "roles": ["administrator"] }"""))).Expect(201);
        var system = host.Stranger().With(token.Text("token"));
        (await system.PostAsync(Path, new JsonObject())).Expect(202);
        (await DoneAsync(system)).At("last").ShouldNotBeNull();
    }

    [Fact]
    public async Task A_folder_without_room_is_said_in_words_and_left_as_it_was()
    {
        await using var disk = await SmallDisk.MountAsync(megabytes: 1);
        await using var host = ServiceHost.Start(clinic.Database, null, ("Backup:Folder", disk.Folder));
        var administrator = await AdministratorAsync(host);
        disk.Fill();
        (await administrator.PostAsync(Path, new JsonObject())).Expect(202);
        var failed = await DoneAsync(administrator);
        failed.Text("failure").ShouldContain("backup folder is full");
        failed.At("last").ShouldBeNull();
        failed.Body.ShouldNotContain(disk.Folder);
        Directory.GetFiles(disk.Folder).Select(System.IO.Path.GetFileName).ShouldBe(["filler"]);

        await disk.SetReadOnlyAsync(true);
        (await administrator.PostAsync(Path, new JsonObject())).Expect(202);
        (await DoneAsync(administrator)).Text("failure").ShouldContain("can't be written");
        await disk.SetReadOnlyAsync(false);
    }

    [Fact]
    public async Task A_folder_that_went_away_is_said_in_words()
    {
        var gone = Directory.CreateDirectory(System.IO.Path.Combine(folder.Path, "gone"));
        await using var host = ServiceHost.Start(clinic.Database, null, ("Backup:Folder", gone.FullName));
        var administrator = await AdministratorAsync(host);
        gone.Delete(recursive: true);
        (await administrator.GetAsync(Path)).Expect(200).Text("obstacle").ShouldContain("can't be read");
        (await administrator.PostAsync(Path, new JsonObject())).Expect(202);
        (await DoneAsync(administrator)).Text("failure").ShouldContain("can't be written");
    }

    [Fact]
    public async Task The_newest_twenty_are_listed_and_nothing_but_backups()
    {
        for (var day = 1; day <= 22; day++)
        {
            var file = System.IO.Path.Combine(folder.Path, string.Create(CultureInfo.InvariantCulture, $"night-{day:00}.backup"));
            await File.WriteAllTextAsync(file, "PK and then some more of it", TestContext.Current.CancellationToken);
            File.SetLastWriteTimeUtc(file, new DateTime(2026, 3, day, 2, 0, 0, DateTimeKind.Utc));
        }

        await File.WriteAllTextAsync(System.IO.Path.Combine(folder.Path, "letter.backup"), "Not one of them, though named so.", TestContext.Current.CancellationToken);
        await using var host = Host();
        var files = (await (await AdministratorAsync(host)).GetAsync(Path)).Expect(200).At("files")!.AsArray();
        files.Count.ShouldBe(20);
        files[0]!["file"]!.GetValue<string>().ShouldBe("night-22.backup");
        files[0]!["finishedAt"]!.GetValue<DateTimeOffset>().ShouldBe(new DateTimeOffset(2026, 3, 22, 2, 0, 0, TimeSpan.Zero));
        files[19]!["file"]!.GetValue<string>().ShouldBe("night-03.backup");
    }

    private static async Task<Reply> DoneAsync(Caller administrator)
    {
        for (var attempt = 0; ; attempt++)
        {
            var state = (await administrator.GetAsync(Path)).Expect(200);
            if (!state.At("running")!.GetValue<bool>())
            {
                return state;
            }

            attempt.ShouldBeLessThan(600);
            await Task.Delay(50, TestContext.Current.CancellationToken);
        }
    }

    private static Task<Caller> AdministratorAsync(ServiceHost host) => host.Stranger().SignInAsync(TestClinic.AdministratorEmail, TestClinic.Password);

    private ServiceHost Host(params (string Key, string Value)[] more) => ServiceHost.Start(clinic.Database, null, [("Backup:Folder", folder.Path), .. more]);
}

public sealed class BackupNowTestsOnSqlite(SqliteClinic clinic) : BackupNowTests(clinic), IClassFixture<SqliteClinic>;

public sealed class BackupNowTestsOnPostgres(PostgresClinic clinic) : BackupNowTests(clinic), IClassFixture<PostgresClinic>;
