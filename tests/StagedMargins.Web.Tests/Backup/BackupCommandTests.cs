using System.IO.Compression;
using System.Text;
using System.Text.Json.Nodes;
using Microsoft.Data.Sqlite;
using StagedMargins.Web.Backup;
using StagedMargins.Web.Commands;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Backup;

/// <summary>What the two tasks take, refuse and leave behind.</summary>
public sealed class BackupCommandTests(SqliteBackedUpClinic place) : IClassFixture<SqliteBackedUpClinic>
{
    private Installation Program => place.Source.Program;

    [Theory]
    [InlineData("backup", "Say where to")]
    [InlineData("backup --to ./new.zip --keyfile ./backup.key", "'--keyfile' is not an option here")]
    [InlineData("backup --to ./new.zip --key-file ./nowhere.key", "There is no key file")]
    [InlineData("backup --to ./new.zip --key-file ./plain.zip", "must hold 32 bytes")]
    [InlineData("backup --to ./plain.zip", "never overwrites a file")]
    [InlineData("backup --to ./nowhere/new.zip", "can't be written")]
    [InlineData("backup --to ./new.zip --ConnectionStrings:Default=DataSource=./nowhere.db", "There is no record at")]
    [InlineData("verify --ConnectionStrings:Default=DataSource=./nowhere.db", "There is no record at")]
    [InlineData("restore", "Name the backup file")]
    [InlineData("restore --from ./plain.zip --key-file ./backup.key", "not encrypted")]
    [InlineData("restore --from ./backup.key", "not a backup")]
    public async Task What_is_wrong_with_a_task_is_said_in_one_line(string task, string line)
    {
        var end = await Program.RunAsync([.. task.Split(' ').Select(word => word.Replace("./", $"{Program.Folder}/", StringComparison.Ordinal))]);
        end.Code.ShouldBe(1, end.Output);
        end.Errors.TrimEnd().ShouldNotContain("\n");
        end.Errors.ShouldContain(line);
        File.Exists(place.PathOf("new.zip")).ShouldBeFalse();
        File.Exists(place.PathOf("nowhere.db")).ShouldBeFalse();
        Directory.GetFiles(Program.Folder, "*.part").ShouldBeEmpty();
    }

    [Fact]
    public async Task A_backup_that_finds_no_room_leaves_no_file()
    {
        await using var disk = await SmallDisk.MountAsync(megabytes: 1);
        disk.Fill();
        var end = await Program.RunAsync("backup", "--to", Path.Combine(disk.Folder, "backup.zip"));
        end.Code.ShouldBe(1);
        end.Errors.TrimEnd().ShouldNotContain("\n");
        end.Errors.ShouldContain("No file was left");
        Directory.GetFiles(disk.Folder).Select(Path.GetFileName).ShouldBe(["filler"]);
    }

    [Fact]
    public async Task A_restore_that_finds_no_room_leaves_no_file()
    {
        await using var disk = await SmallDisk.MountAsync(megabytes: 1);
        disk.Fill();
        var end = await Program.RunAsync("restore", "--from", place.Plain, $"--ConnectionStrings:Default=Data Source={Path.Combine(disk.Folder, "record.db")}");
        end.Code.ShouldBe(1);
        end.Errors.TrimEnd().ShouldNotContain("\n");
        Directory.GetFiles(disk.Folder).Select(Path.GetFileName).ShouldBe(["filler"]);
    }

    [Theory]
    [InlineData("KILL")]
    [InlineData("TERM")]
    public async Task A_backup_that_is_ended_leaves_no_backup_and_can_be_made_again(string signal)
    {
        var target = place.PathOf($"ended-{signal}.zip");
        using (var backup = Program.Begin("backup", "--to", target))
        {
            await backup.StandardOutput.ReadLineAsync(TestContext.Current.CancellationToken);
            using var kill = System.Diagnostics.Process.Start("kill", [$"-{signal}", $"{backup.Id}"]);
            await backup.WaitForExitAsync(TestContext.Current.CancellationToken);
            if (backup.ExitCode == 0)
            {
                // It was done before the signal came.
                File.Delete(target);
            }
        }

        File.Exists(target).ShouldBeFalse();
        (await Program.RunAsync("backup", "--to", target)).Code.ShouldBe(0);
        Directory.GetFiles(Program.Folder, "*.part").ShouldBeEmpty();
    }

    [Fact]
    public async Task A_record_that_was_tampered_with_comes_back_as_it_is_and_is_named()
    {
        var (tampered, file) = (place.PathOf("tampered.db"), place.PathOf("tampered.zip"));
        CopyRecord(tampered);
        await using (var connection = new SqliteConnection($"Data Source={tampered};Pooling=False"))
        {
            await connection.OpenAsync(TestContext.Current.CancellationToken);
            await using var command = connection.CreateCommand();
            command.CommandText = "DROP TRIGGER ledger_entries_no_update; UPDATE ledger_entries SET body = replace(body, 'clear', 'tumour')";
            await command.ExecuteNonQueryAsync(TestContext.Current.CancellationToken);
        }

        (await Program.RunAsync("backup", "--to", file, $"--ConnectionStrings:Default=Data Source={tampered}")).Code.ShouldBe(0);
        var end = await Program.RunAsync("restore", "--from", file, $"--ConnectionStrings:Default=Data Source={place.PathOf("of-tampered.db")}");
        end.Code.ShouldBe(2, end.Output + end.Errors);
        end.Output.ShouldContain("NOT INTACT");
        File.Exists(place.PathOf("of-tampered.db")).ShouldBeTrue();
    }

    [Fact]
    public async Task A_backup_of_a_later_version_is_refused()
    {
        var later = place.PathOf("later.zip");
        await RewriteAsync(later, manifest => manifest["schema"]!.AsArray().Add("SomethingNew"));
        var end = await Program.RunAsync("restore", "--from", later, $"--ConnectionStrings:Default=Data Source={place.PathOf("of-later.db")}");
        end.Code.ShouldBe(1, end.Output);
        end.Errors.TrimEnd().ShouldNotContain("\n");
        end.Errors.ShouldContain("newer version");
        Directory.GetFiles(Program.Folder, "of-later*").ShouldBeEmpty();
    }

    [Theory]
    [InlineData("format", "3")]
    [InlineData("schema", "null")]
    [InlineData("tables", """[{ "name": "x\"; DROP TABLE cases; --", "columns": [], "rows": 0, "sha256": "" }]""")]
    [InlineData("tables", """[{ "name": "cases", "columns": [{ "name": "id", "kind": "uuid" }], "rows": 2, "sha256": "" }]""")]
    [InlineData("tables", """[{ "name": "nowhere", "columns": [{ "name": "id", "kind": "uuid" }], "rows": 2, "sha256": "" }]""")]
    [InlineData("tables", """[{ "name": "cases", "columns": [{ "name": "id", "kind": "weight" }], "rows": 2, "sha256": "" }]""")]
    [InlineData("tables", "null")]
    public async Task A_list_that_does_not_fit_is_refused_even_under_a_right_digest(string field, string value)
    {
        var forged = place.PathOf($"forged-{Guid.NewGuid():N}.zip");
        await RewriteAsync(forged, manifest => manifest[field] = JsonNode.Parse(value));
        Should.Throw<BackupException>(() =>
        {
            using var reader = BackupReader.Open(forged, null);
            reader.CheckRows(new Progress(TextWriter.Null, TimeProvider.System), TestContext.Current.CancellationToken);
        });
    }

    [Theory]
    [InlineData("--to", "--key-file", "backup.key")]
    [InlineData("--to", "new.zip", "--to", "other.zip")]
    [InlineData("new.zip")]
    [InlineData("--to", "new.zip", "--from", "other.zip")]
    [InlineData("--to")]
    [InlineData("-to", "new.zip")]
    public void An_option_that_is_not_one_never_vanishes(params string[] options) =>
        Should.Throw<StartFailureException>(() => CommandLine.Find(["backup", .. options])).Message.ShouldContain("is not an option here");

    [Fact]
    public void Settings_may_stand_beside_the_options_of_a_task() => CommandLine.Find(
        ["backup", "--Database:Provider", "Postgres", "--to=new.zip", "--ConnectionStrings:Default=Host=localhost", "--key-file", "backup.key", "--demo"]).ShouldNotBeNull();

    private void CopyRecord(string target)
    {
        using var from = new SqliteConnection(place.Source.Database.Connection);
        using var to = new SqliteConnection($"Data Source={target};Pooling=False");
        from.Open();
        to.Open();
        from.BackupDatabase(to);
    }

    // As someone could who has the file: with another list, sealed anew.
    private async Task RewriteAsync(string target, Action<JsonObject> change)
    {
        File.Copy(place.Plain, target);
        await using (var archive = await ZipFile.OpenAsync(target, ZipArchiveMode.Update, TestContext.Current.CancellationToken))
        {
            var entry = archive.GetEntry(BackupManifest.File)!;
            JsonObject manifest;
            await using (var read = await entry.OpenAsync(TestContext.Current.CancellationToken))
            {
                manifest = JsonNode.Parse(read)!.AsObject();
            }

            entry.Delete();
            change(manifest);
            await using var write = await archive.CreateEntry(BackupManifest.File).OpenAsync(TestContext.Current.CancellationToken);
            await write.WriteAsync(Encoding.UTF8.GetBytes(manifest.ToJsonString()), TestContext.Current.CancellationToken);
        }

        await using var file = new FileStream(target, FileMode.Open, FileAccess.ReadWrite);
        PlainSeal.Write(file);
    }
}
