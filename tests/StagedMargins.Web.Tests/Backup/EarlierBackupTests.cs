using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Backup;

/// <summary>
/// A backup made by the program as it was, before the tables changed further, is brought up to date on the way in. The files in
/// Earlier were written by that program; the people and cases in them are invented.
/// </summary>
public sealed class EarlierBackupTests(PostgresServer server)
{
    [Theory]
    [InlineData("sqlite", Engine.Sqlite)]
    [InlineData("sqlite", Engine.Postgres)]
    [InlineData("postgres", Engine.Sqlite)]
    [InlineData("postgres", Engine.Postgres)]
    public async Task A_backup_of_an_earlier_version_is_restored_and_gone_on_with(string file, Engine target)
    {
        await using var database = await TestDatabase.EmptyAsync(target, server);
        await using var program = new Installation(new Dictionary<string, string>(database.Settings) { ["History:KeyFile"] = PathOf($"{file}.keys") });
        var end = await program.RunAsync("restore", "--from", PathOf($"{file}.backup"));
        end.Code.ShouldBe(0, end.Output + end.Errors);
        end.Output.ShouldContain("2 cases checked: all unchanged since they were written.");

        await using var service = program.StartHost();
        var surgeon = await service.Stranger().SignInAsync(TestClinic.SurgeonEmail, TestClinic.Password);
        var cases = (await surgeon.GetAsync("/api/cases")).Expect(200).At("items")!.AsArray();
        cases.Select(item => item!["status"]!.GetValue<string>()).Order(StringComparer.Ordinal).ShouldBe(["ended", "open"]);
        var open = cases.Single(item => item!["status"]!.GetValue<string>() == "open")!["id"]!.GetValue<string>();
        (await surgeon.RecordAsync(open, Some.WholeLayer())).Expect(201);
        (await surgeon.GetAsync($"/api/cases/{open}/history")).Expect(200).At("chain.intact").ShouldBeJson("true");
    }

    [Fact]
    public async Task The_files_are_of_an_earlier_version_than_this()
    {
        await using var database = await TestDatabase.EmptyAsync(Engine.Sqlite, server);
        await using var db = database.NewContext();
        foreach (var file in (string[])["sqlite", "postgres"])
        {
            using var archive = await System.IO.Compression.ZipFile.OpenReadAsync(PathOf($"{file}.backup"), TestContext.Current.CancellationToken);
            await using var manifest = await archive.GetEntry("manifest.json")!.OpenAsync(TestContext.Current.CancellationToken);
            var seen = (await System.Text.Json.Nodes.JsonNode.ParseAsync(manifest, cancellationToken: TestContext.Current.CancellationToken))!["schema"]!.AsArray();
            seen.Count.ShouldBeLessThan(Microsoft.EntityFrameworkCore.RelationalDatabaseFacadeExtensions.GetMigrations(db.Database).Count());
        }
    }

    private static string PathOf(string file) => Path.Combine(Repository.Root, "tests", "StagedMargins.Web.Tests", "Backup", "Earlier", file);
}
