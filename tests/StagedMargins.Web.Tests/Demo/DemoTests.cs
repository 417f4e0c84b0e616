using System.Diagnostics;
using System.Text.Json.Nodes;
using StagedMargins.Web.Tests.Features.Audit;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Demo;

/// <summary>The demonstration as one starts it to look around.</summary>
[Collection<WithDemo>]
public sealed class DemoTests(RunningDemo demo)
{
    private const string Password = "demonstration pass phrase";
    private const string Warning = "Warning: STAGEDMARGINS_DEMO_PASSWORD";

    [Fact]
    public async Task A_first_demo_start_loads_the_invented_clinic_and_says_how_to_try_it()
    {
        var stranger = await demo.Process.StrangerAsync();
        foreach (var role in new[] { "histotech", "surgeon", "manager", "administrator" })
        {
            await stranger.SignInAsync($"{role}@demo.invalid", demo.Password);
            demo.Process.Output.ShouldContain($"{role}@demo.invalid  ({role})");
        }

        demo.Process.Errors.ShouldBe("");
        demo.Process.Output.ShouldContain((await demo.Process.ListeningAsync()).Authority);
        demo.Process.Output.ShouldContain("not a diagnosis");
        demo.Process.Output.ShouldNotContain("One-time code");
        RunningDemo.CommandLines(demo.Process).Count.ShouldBe(3);

        var surgeon = await stranger.SignInAsync("surgeon@demo.invalid", demo.Password);
        var all = (await surgeon.GetAsync("/api/cases?limit=200")).Expect(200).At("items")!.AsArray();
        all.Count.ShouldBeGreaterThanOrEqualTo(60);
        var open = (await surgeon.GetAsync("/api/cases?status=open")).Expect(200).At("items")!.AsArray();
        open.Count.ShouldBe(3);
        open.Select(item => item!["state"]!.GetValue<string>()).ToHashSet().SetEquals(["awaitingReadings", "tumourOutstanding"]).ShouldBeTrue();
        foreach (var id in all.Select(item => item!["id"]!.GetValue<string>()).Take(10))
        {
            await surgeon.CaseAsync(id);
            await surgeon.MarginsAsync(id);
        }
    }

    [Fact]
    public async Task The_audit_of_the_invented_clinic_is_what_its_cases_give_one_by_one()
    {
        var stranger = await demo.Process.StrangerAsync();
        var slow = await AuditOracle.OfAsync(await stranger.SignInAsync("surgeon@demo.invalid", demo.Password));
        var manager = await stranger.SignInAsync("manager@demo.invalid", demo.Password);
        var bySurgeon = (await manager.GetAsync("/api/audit?groupBy=surgeon")).Expect(200).Json;
        bySurgeon["cases"]!.GetValue<int>().ShouldBeGreaterThan(50);
        slow.ShouldBe(bySurgeon);
        foreach (var group in bySurgeon["groups"]!.AsArray())
        {
            slow.Where(of => (of["surgeonEmail"]?.GetValue<string>() ?? "notStated") == group!["key"]!.GetValue<string>()).ShouldBe(group!);
        }
    }

    [Fact]
    public async Task The_commands_it_prints_work_as_they_stand()
    {
        using var folder = new TempFolder();
        var commands = RunningDemo.CommandLines(demo.Process);
        using var run = Process.Start(new ProcessStartInfo("bash", ["-c", $"set -e; {string.Join("\n", commands.Take(2))}"]) { RedirectStandardOutput = true, WorkingDirectory = folder.Path })!;
        var answer = await run.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken);
        await run.WaitForExitAsync(TestContext.Current.CancellationToken);
        run.ExitCode.ShouldBe(0);
        Some.Json(answer)["items"]!.AsArray().Count.ShouldBe(3);
    }

    [Fact]
    public async Task A_second_demo_start_uses_the_clinic_there_and_takes_a_password_that_is_chosen()
    {
        using var home = demo.CopyOfHome();
        await using (var second = RunningDemo.Start(home, password: null))
        {
            var surgeon = await (await second.StrangerAsync()).SignInAsync("surgeon@demo.invalid", demo.Password);
            await RunningDemo.PasswordSaidAsync(second);
            second.Output.ShouldNotContain(demo.Password);
            await surgeon.OpenCaseAsync(Some.Case().Without("surgeonEmail").With("caseNumber", "KEPT-1"));
            await second.TerminateAsync();
            (await second.ExitCodeAsync()).ShouldBe(0);
        }

        await using var third = RunningDemo.Start(home, Password);
        var stranger = await third.StrangerAsync();
        var chosen = await stranger.SignInAsync("surgeon@demo.invalid", Password);
        (await chosen.GetAsync("/api/cases?q=KEPT-1")).At("items")!.AsArray().ShouldHaveSingleItem();
        (await stranger.PostAsync("/api/auth/login", new JsonObject { ["email"] = "surgeon@demo.invalid", ["password"] = demo.Password })).ExpectProblem(401);
        await RunningDemo.PasswordSaidAsync(third);
        third.Output.ShouldNotContain(Password);
        third.Output.ShouldNotContain(Warning);
    }

    [Fact]
    public async Task A_chosen_password_holds_from_the_first_start_and_a_weak_one_is_taken_with_a_warning()
    {
        const string weak = "vex";
        using var home = new TempFolder();
        await using var first = RunningDemo.Start(home, weak);
        var stranger = await first.StrangerAsync();
        foreach (var role in new[] { "histotech", "surgeon", "manager", "administrator" })
        {
            await stranger.SignInAsync($"{role}@demo.invalid", weak);
        }

        await RunningDemo.PasswordSaidAsync(first);
        first.Output.Split('\n').Count(line => line.Contains(Warning, StringComparison.Ordinal)).ShouldBe(1);
        first.Output.ShouldNotContain(weak);
        var administrator = await stranger.SignInAsync("administrator@demo.invalid", weak);
        (await administrator.PostAsync("/api/auth/password", new JsonObject { ["password"] = weak, ["newPassword"] = "brief" })).ExpectProblem(400, "newPassword");
    }
}

/// <summary>The demonstration keeps away from a real record.</summary>
public sealed class DemoOnRealRecordTests(PostgresServer server)
{
    [Fact]
    public async Task A_record_of_a_real_clinic_takes_no_demo()
    {
        await using var database = await (await server.Templates.ClinicAsync(Engine.Sqlite)).Database.CopyAsync(server);
        await using var program = new Installation(database.Settings);
        var demo = await program.FailToStartAsync("--demo");
        demo.Code.ShouldNotBe(0);
        demo.Errors.Split('\n', StringSplitOptions.RemoveEmptyEntries).ShouldHaveSingleItem().ShouldContain("--demo");
    }
}
