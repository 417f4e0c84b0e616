using System.Text.Json.Nodes;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Access;

/// <summary>The demo's password by its environment variable, which a script may set to anything.</summary>
public sealed class DemoPasswordTests(PostgresServer server)
{
    private const string Warning = "Warning: STAGEDMARGINS_DEMO_PASSWORD";

    [Fact]
    public async Task Whatever_it_is_it_opens_the_demo_accounts_and_a_weak_one_is_warned_of()
    {
        await using var database = await TestDatabase.FreshAsync(Engine.Sqlite, server);
        await using (var run = await ProgramRun.ServeDemoAsync(database, "short", "--demo"))
        {
            run.Said.Split('\n').Count(line => line.Contains(Warning, StringComparison.Ordinal)).ShouldBe(1);
            foreach (var role in new[] { "histotech", "surgeon", "manager", "administrator" })
            {
                await run.Stranger().SignInAsync($"{role}@demo.invalid", "short");
            }

            var administrator = await run.Stranger().SignInAsync("administrator@demo.invalid", "short");
            (await administrator.PostAsync("/api/auth/password", new JsonObject { ["password"] = "short", ["newPassword"] = "brief" })).ExpectProblem(400, "newPassword");
        }

        await using (var run = await ProgramRun.ServeDemoAsync(database, "a quite uncommon phrase", "--demo"))
        {
            run.Said.ShouldNotContain(Warning);
            await run.Stranger().SignInAsync("surgeon@demo.invalid", "a quite uncommon phrase");
            (await run.Stranger().PostAsync("/api/auth/login", new JsonObject { ["email"] = "surgeon@demo.invalid", ["password"] = "short" })).ExpectProblem(401);
        }
    }

    [Fact]
    public async Task Without_it_one_is_made_and_printed()
    {
        await using var database = await TestDatabase.FreshAsync(Engine.Sqlite, server);
        await using var run = await ProgramRun.ServeDemoAsync(database, null, "--demo");
        var line = run.Said.Split('\n').Single(line => line.StartsWith("Password ", StringComparison.Ordinal));
        await run.Stranger().SignInAsync("surgeon@demo.invalid", line.Split(' ', StringSplitOptions.RemoveEmptyEntries)[1]);
        run.Said.ShouldNotContain("One-time code");
    }
}
