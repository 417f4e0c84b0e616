using System.Diagnostics;
using System.Text.RegularExpressions;
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
        var password = await SaidAsync(demo, PasswordLine());
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
        open.Select(item => item!["state"]!.GetValue<string>()).Order().ShouldBe(["awaitingReadings", "awaitingReadings", "tumourOutstanding"]);
        foreach (var id in all.Select(item => item!["id"]!.GetValue<string>()).Take(10))
        {
            await surgeon.CaseAsync(id);
            await surgeon.MarginsAsync(id);
        }
    }

    [Fact]
    public async Task The_commands_it_prints_work_as_they_stand()
    {
        await using var demo = ServiceProcess.Start(home.Path, Nothing, "--demo", "--urls", "http://127.0.0.1:0");
        await demo.ListeningAsync();
        await SaidAsync(demo, PasswordLine());
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
            printed = await SaidAsync(first, PasswordLine());
            var surgeon = await stranger.SignInAsync("surgeon@demo.invalid", printed);
            await surgeon.OpenCaseAsync(Some.Case().Without("surgeonEmail").With("caseNumber", "KEPT-1"));
            await first.TerminateAsync();
            (await first.ExitCodeAsync()).ShouldBe(0);
        }

        await using (var second = ServiceProcess.Start(home.Path, Nothing, "--demo", "--urls", "http://127.0.0.1:0"))
        {
            var surgeon = await (await second.StrangerAsync()).SignInAsync("surgeon@demo.invalid", printed);
            (await surgeon.GetAsync("/api/cases?q=KEPT-1")).At("items")!.AsArray().ShouldHaveSingleItem();
            await SaidAsync(second, PasswordLine());
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
    public async Task A_chosen_password_that_is_too_short_stops_the_start_with_one_line_and_leaves_nothing_half_loaded()
    {
        await using (var short_ = ServiceProcess.Start(home.Path, new Dictionary<string, string> { ["STAGEDMARGINS_DEMO_PASSWORD"] = "short" }, "--demo", "--urls", "http://127.0.0.1:0"))
        {
            (await short_.ExitCodeAsync()).ShouldNotBe(0);
            short_.Errors.Split('\n', StringSplitOptions.RemoveEmptyEntries).ShouldHaveSingleItem();
        }

        await using var demo = ServiceProcess.Start(home.Path, Chosen, "--demo", "--urls", "http://127.0.0.1:0");
        var surgeon = await (await demo.StrangerAsync()).SignInAsync("surgeon@demo.invalid", Password);
        (await surgeon.GetAsync("/api/cases?limit=200")).At("items")!.AsArray().Count.ShouldBeGreaterThanOrEqualTo(60);
    }

    [Fact]
    public async Task A_record_of_a_real_clinic_takes_no_demo()
    {
        var connection = $"Data Source={Path.Combine(home.Path, "record.db")}";
        var settings = new Dictionary<string, string>
        {
            ["ConnectionStrings__Default"] = connection, ["FirstAdministrator__Email"] = "a@clinic.invalid", ["FirstAdministrator__Password"] = TestClinic.Password,
        };
        await using (var real = ServiceProcess.Start(home.Path, settings, "--urls", "http://127.0.0.1:0"))
        {
            await real.ListeningAsync();
        }

        await using var demo = ServiceProcess.Start(home.Path, settings, "--demo", "--urls", "http://127.0.0.1:0");
        (await demo.ExitCodeAsync()).ShouldNotBe(0);
        demo.Errors.Split('\n', StringSplitOptions.RemoveEmptyEntries).ShouldHaveSingleItem().ShouldContain("--demo");
    }

    private static List<string> CommandLines(ServiceProcess demo) =>
        [.. demo.Output.Split('\n').Select(line => line.Trim()).Where(line => line.Contains("curl ", StringComparison.Ordinal))];

    // The greeting follows the line that says where the service listens.
    private static async Task<string> SaidAsync(ServiceProcess demo, Regex wanted)
    {
        for (var attempt = 0; ; attempt++)
        {
            if (wanted.Match(demo.Output) is { Success: true } match && demo.Output.Contains("Ctrl+C", StringComparison.Ordinal))
            {
                return match.Groups[1].Value;
            }

            attempt.ShouldBeLessThan(200);
            await Task.Delay(50, TestContext.Current.CancellationToken);
        }
    }

    [GeneratedRegex(@"^Password\s+(\S+)", RegexOptions.Multiline)]
    private static partial Regex PasswordLine();
}
