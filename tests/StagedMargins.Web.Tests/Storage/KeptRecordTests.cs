using System.Text.Json.Nodes;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Storage;

/// <summary>
/// A record that an earlier version wrote, kept as a file, is opened, checked and written to by this one. A new file is made, and added
/// beside the earlier ones, with STAGEDMARGINS_RENEW=1 when a version is tagged.
/// </summary>
public sealed class KeptRecordTests(PostgresServer server)
{
    private const string Renew = "STAGEDMARGINS_RENEW";
    private static readonly string Folder = Path.Combine(Repository.Root, "tests", "StagedMargins.Web.Tests", "Storage", "Kept");

    public static TheoryData<string, Engine> Kept => new(
        from name in Directory.GetFiles(Folder, "*.backup").Select(file => Path.GetFileNameWithoutExtension(file)!).Order(StringComparer.Ordinal)
        from engine in new[] { Engine.Sqlite, Engine.Postgres }
        select (name, engine));

    [Theory]
    [MemberData(nameof(Kept))]
    public async Task A_kept_record_goes_through_changes_of_its_tables_is_intact_reads_as_it_did_and_takes_new_entries(string name, Engine engine)
    {
        await using var database = await TestDatabase.EmptyAsync(engine, server);
        await using var program = new Installation(new Dictionary<string, string>(database.Settings) { ["History:KeyFile"] = Path.Combine(Folder, $"{name}.keys") });
        await ExpectAsync(program, 0, "restore", "--from", Path.Combine(Folder, $"{name}.backup"));

        // As a later version changes a table of computed rows: no seal is about its columns.
        await database.ExecuteAsync("ALTER TABLE cases ADD COLUMN added_later integer NOT NULL DEFAULT 0");
        await ExpectAsync(program, 0, "verify");
        var said = JsonNode.Parse(await File.ReadAllTextAsync(Path.Combine(Folder, $"{name}.json"), TestContext.Current.CancellationToken))!;
        await using (var host = program.StartHost())
        {
            var surgeon = await host.Stranger().SignInAsync(TestClinic.SurgeonEmail, TestClinic.Password);
            var id = said["id"]!.GetValue<string>();
            var history = (await surgeon.GetAsync($"/api/cases/{id}/history")).Expect(200);
            history.At("chain.intact").ShouldBeJson("true");
            WithoutSentences(history).ShouldBeJson(said["entries"]!.ToJsonString());
            (await surgeon.MarginsAsync(id)).At("state").ShouldBeJson(said["state"]!.ToJsonString());
            (await surgeon.PostAsync($"/api/cases/{id}/visits", CareSteps.Visit("2026-07-03", recurrence: false))).Expect(201);
            (await surgeon.OpenClearAsync()).ShouldNotBeEmpty();
        }

        await ExpectAsync(program, 0, "verify");
        await ExpectAsync(program, 0, "rebuild");
    }

    [Fact]
    public async Task A_record_of_this_version_is_kept_where_that_is_asked_for()
    {
        Assert.SkipUnless(Environment.GetEnvironmentVariable(Renew) == "1", $"{Renew} is not set.");
        await using var database = await (await server.Templates.ClinicAsync(Engine.Sqlite)).Database.CopyAsync(server);
        await using var program = new Installation(database.Settings);
        await using (var host = program.StartHost())
        {
            var surgeon = await host.Stranger().SignInAsync(TestClinic.SurgeonEmail, TestClinic.Password);
            var histotech = await host.Stranger().SignInAsync(TestClinic.HistotechEmail, TestClinic.Password);
            var id = await surgeon.PlayWorkedExampleAsync(histotech);
            (await surgeon.PostAsync($"/api/cases/{id}/repair", CareSteps.Repair())).Expect(201);
            var said = new JsonObject
            {
                ["id"] = id,
                ["state"] = (await surgeon.MarginsAsync(id)).At("state")!.DeepClone(),
                ["entries"] = WithoutSentences((await surgeon.GetAsync($"/api/cases/{id}/history")).Expect(200)),
            };
            await File.WriteAllTextAsync(Path.Combine(Folder, "ledger-1.json"), said.ToJsonString(), TestContext.Current.CancellationToken);
        }

        File.Delete(Path.Combine(Folder, "ledger-1.backup"));
        await ExpectAsync(program, 0, "backup", "--to", Path.Combine(Folder, "ledger-1.backup"));
        File.Copy(program.HistoryKeyFile, Path.Combine(Folder, "ledger-1.keys"), overwrite: true);
    }

    private static async Task ExpectAsync(Installation program, int code, params string[] task)
    {
        var run = await program.RunAsync(task);
        run.Code.ShouldBe(code, run.Output + run.Errors);
    }

    // Words for people may be put better in a later version; what was entered may not.
    private static JsonArray WithoutSentences(Reply history)
    {
        var entries = history.At("entries")!.DeepClone().AsArray();
        foreach (var entry in entries)
        {
            entry!.AsObject().Remove("sentence").ShouldBeTrue();
        }

        return entries;
    }
}
