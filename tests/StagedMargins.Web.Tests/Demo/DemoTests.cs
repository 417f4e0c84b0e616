using System.Diagnostics;
using System.Text.RegularExpressions;
using StagedMargins.Web.Tests.Features.Audit;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Demo;

/// <summary>The demonstration as one starts it to look around.</summary>
public sealed partial class DemoTests : IDisposable
{
    private const string Password = "demonstration pass phrase";

    private static readonly Dictionary<string, string> Nothing = [];
    private static readonly Dictionary<string, string> Chosen = new() { ["STAGEDMARGINS_DEMO_PASSWORD"] = Password };

    private readonly TempFolder home = new();

    public void Dispose() => home.Dispose();

    [Fact]
    public async Task A_first_demo_start_loads_the_invented_clinic_and_says_how_to_try_it()
    {
        await using var demo = ServiceProcess.Start(home.Path, Nothing, "--demo", "--urls", "http://127.0.0.1:0");
        var stranger = await demo.StrangerAsync();
        var password = await PasswordSaidAsync(demo);
        foreach (var role in new[] { "histotech", "surgeon", "manager", "administrator" })
        {
            await stranger.SignInAsync($"{role}@demo.invalid", password);
            demo.Output.ShouldContain($"{role}@demo.invalid  ({role})");
        }

        demo.Errors.ShouldBe("");
        demo.Output.ShouldContain((await demo.ListeningAsync()).Authority);
        demo.Output.ShouldContain("not a diagnosis");
        CommandLines(demo).Count.ShouldBe(3);

        var surgeon = await stranger.SignInAsync("surgeon@demo.invalid", password);
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
        await using var demo = ServiceProcess.Start(home.Path, Chosen, "--demo", "--urls", "http://127.0.0.1:0");
        var stranger = await demo.StrangerAsync();
        var slow = await SlowAudit.OfAsync(await stranger.SignInAsync("surgeon@demo.invalid", Password));
        var manager = await stranger.SignInAsync("manager@demo.invalid", Password);
        var bySurgeon = (await manager.GetAsync("/api/audit?groupBy=surgeon")).Expect(200).Json;
        bySurgeon["cases"]!.GetValue<int>().ShouldBeGreaterThan(50);
        slow.ShouldBe(bySurgeon);
        foreach (var group in bySurgeon["groups"]!.AsArray())
        {
            slow.Where(caseJson => (caseJson["surgeonEmail"]?.GetValue<string>() ?? "notStated") == group!["key"]!.GetValue<string>()).ShouldBe(group!);
        }
    }

    [Fact]
    public async Task The_commands_it_prints_work_as_they_stand()
    {
        await using var demo = ServiceProcess.Start(home.Path, Nothing, "--demo", "--urls", "http://127.0.0.1:0");
        await demo.ListeningAsync();
        await PasswordSaidAsync(demo);
        var commands = CommandLines(demo);
        var run = Process.Start(new ProcessStartInfo("bash", ["-c", $"set -e; {string.Join("\n", commands.Take(2))}"]) { RedirectStandardOutput = true, WorkingDirectory = home.Path })!;
        var answer = await run.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken);
        await run.WaitForExitAsync(TestContext.Current.CancellationToken);
        run.ExitCode.ShouldBe(0);
        Some.Json(answer)["items"]!.AsArray().Count.ShouldBe(3);
    }

    [Fact]
    public async Task A_second_demo_start_uses_the_clinic_there_and_takes_a_password_that_is_chosen()
    {
        string printed;
        await using (var first = ServiceProcess.Start(home.Path, Nothing, "--demo", "--urls", "http://127.0.0.1:0"))
        {
            var stranger = await first.StrangerAsync();
            printed = await PasswordSaidAsync(first);
            var surgeon = await stranger.SignInAsync("surgeon@demo.invalid", printed);
            await surgeon.OpenCaseAsync(Some.Case().Without("surgeonEmail").With("caseNumber", "KEPT-1"));
            await first.TerminateAsync();
            (await first.ExitCodeAsync()).ShouldBe(0);
        }

        await using (var second = ServiceProcess.Start(home.Path, Nothing, "--demo", "--urls", "http://127.0.0.1:0"))
        {
            var surgeon = await (await second.StrangerAsync()).SignInAsync("surgeon@demo.invalid", printed);
            (await surgeon.GetAsync("/api/cases?q=KEPT-1")).At("items")!.AsArray().ShouldHaveSingleItem();
            await PasswordSaidAsync(second);
            second.Output.ShouldNotContain(printed);
        }

        await using var third = ServiceProcess.Start(home.Path, Chosen, "--demo", "--urls", "http://127.0.0.1:0");
        await (await third.StrangerAsync()).SignInAsync("surgeon@demo.invalid", Password);
        third.Output.ShouldNotContain(Password);
    }

    [Fact]
    public async Task A_chosen_password_holds_from_the_first_start()
    {
        await using var demo = ServiceProcess.Start(home.Path, Chosen, "--demo", "--urls", "http://127.0.0.1:0");
        await (await demo.StrangerAsync()).SignInAsync("manager@demo.invalid", Password);
        demo.Output.ShouldNotContain(Password);
    }

    [Fact]
    public async Task A_short_password_is_taken_for_the_invented_clinic_with_a_warning()
    {
        await using var demo = ServiceProcess.Start(home.Path, new Dictionary<string, string> { ["STAGEDMARGINS_DEMO_PASSWORD"] = "short" }, "--demo", "--urls", "http://127.0.0.1:0");
        await (await demo.StrangerAsync()).SignInAsync("surgeon@demo.invalid", "short");
        demo.Output.ShouldContain("Warning: STAGEDMARGINS_DEMO_PASSWORD");
    }

    [Fact]
    public async Task A_record_of_a_real_clinic_takes_no_demo()
    {
        var connection = $"Data Source={Path.Combine(home.Path, "record.db")}";
        var settings = new Dictionary<string, string> { ["ConnectionStrings__Default"] = connection };
        await using (var real = ServiceProcess.Start(home.Path, settings, "--urls", "http://127.0.0.1:0"))
        {
            await real.FoundAsync("a@clinic.invalid");
        }

        await using var demo = ServiceProcess.Start(home.Path, settings, "--demo", "--urls", "http://127.0.0.1:0");
        (await demo.ExitCodeAsync()).ShouldNotBe(0);
        demo.Errors.Split('\n', StringSplitOptions.RemoveEmptyEntries).ShouldHaveSingleItem().ShouldContain("--demo");
    }

    private static List<string> CommandLines(ServiceProcess demo) =>
        [.. demo.Output.Split('\n').Select(line => line.Trim()).Where(line => line.Contains("curl ", StringComparison.Ordinal))];

    // The greeting follows the line that says where the service listens, and ends with how to stop it.
    private static async Task<string> PasswordSaidAsync(ServiceProcess demo)
    {
        await demo.SaidAsync(LastLine());
        return await demo.SaidAsync(PasswordLine());
    }

    [GeneratedRegex(@"(Ctrl\+C)")]
    private static partial Regex LastLine();

    [GeneratedRegex(@"^Password\s+(\S+)", RegexOptions.Multiline)]
    private static partial Regex PasswordLine();
}
