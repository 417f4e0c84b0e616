using System.Diagnostics;
using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;

namespace StagedMargins.Web.Tests.Testing;

/// <summary>The program as it was built, in a process of its own, with a home folder of its own.</summary>
public sealed partial class ServiceProcess : IAsyncDisposable
{
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(3);

    private readonly Process process;
    private readonly StringBuilder output = new();
    private readonly StringBuilder errors = new();
    private readonly TaskCompletionSource<Uri> address = new(TaskCreationOptions.RunContinuationsAsynchronously);

    private ServiceProcess(Process process)
    {
        this.process = process;
        process.OutputDataReceived += (_, line) => Hear(output, line.Data);
        process.ErrorDataReceived += (_, line) => Hear(errors, line.Data);
    }

    /// <summary>What it has written to standard output.</summary>
    public string Output => Said(output);

    /// <summary>What it has written to standard error.</summary>
    public string Errors => Said(errors);

    /// <summary>Starts it.</summary>
    /// <param name="home">The home folder it is given; its data folder lies in it.</param>
    /// <param name="environment">Further variables.</param>
    /// <param name="arguments">Its arguments.</param>
    public static ServiceProcess Start(string home, IReadOnlyDictionary<string, string> environment, params string[] arguments)
    {
        var started = new ServiceProcess(new Process { StartInfo = Surroundings(home, environment, arguments) });
        started.process.Start();
        started.process.BeginOutputReadLine();
        started.process.BeginErrorReadLine();
        return started;
    }

    /// <summary>How the program is started, as the service or for a task.</summary>
    /// <param name="home">The home folder it is given; its data folder lies in it.</param>
    /// <param name="environment">Further variables.</param>
    /// <param name="arguments">Its arguments.</param>
    internal static ProcessStartInfo Surroundings(string home, IReadOnlyDictionary<string, string> environment, params string[] arguments)
    {
        var start = new ProcessStartInfo("dotnet", [Repository.Program, .. arguments])
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            StandardOutputEncoding = Encoding.UTF8,
            WorkingDirectory = home,
        };
        foreach (var inherited in start.Environment.Keys.Where(IsSetting).ToList())
        {
            start.Environment.Remove(inherited);
        }

        // So that a start without the demo says where it listens.
        start.Environment["Serilog__MinimumLevel__Override__Microsoft.Hosting.Lifetime"] = "Information";
        // A process that a test starts is over before tuning by profile pays.
        start.Environment["DOTNET_TieredPGO"] = "0";
        TestClock.SetFor(start.Environment);
        start.Environment["HOME"] = home;
        start.Environment["XDG_DATA_HOME"] = Path.Combine(home, "data");
        foreach (var (name, value) in environment)
        {
            start.Environment[name] = value;
        }

        return start;
    }

    /// <summary>Where it listens, once it does.</summary>
    /// <exception cref="InvalidOperationException">It ended instead.</exception>
    public async Task<Uri> ListeningAsync()
    {
        var ended = process.WaitForExitAsync(TestContext.Current.CancellationToken);
        await Task.WhenAny(address.Task, ended).WaitAsync(Patience, TestContext.Current.CancellationToken);
        return address.Task.IsCompletedSuccessfully
            ? await address.Task
            : throw new InvalidOperationException($"The program ended with {process.ExitCode} instead of listening: {Errors}");
    }

    /// <summary>A caller of it who has not signed in.</summary>
    public async Task<Caller> StrangerAsync() => new(new HttpClient { BaseAddress = await ListeningAsync() }, token: null);

    /// <summary>What a line of its standard output says, once it has said it: the first group of a pattern.</summary>
    public async Task<string> SaidAsync(Regex wanted)
    {
        for (var attempt = 0; ; attempt++)
        {
            if (wanted.Match(Output) is { Success: true } match)
            {
                return match.Groups[1].Value;
            }

            attempt.ShouldBeLessThan(400);
            await Task.Delay(50, TestContext.Current.CancellationToken);
        }
    }

    /// <summary>Makes the first clinic with the one-time code that it has said, and signs its administrator in.</summary>
    public async Task<Caller> FoundAsync(string email, string clinic = "Clinic of the tests")
    {
        var stranger = await StrangerAsync();
        (await stranger.PostAsync("/api/auth/first-administrator", Some.FirstAdministrator(await SaidAsync(CodeLine()), email, clinic))).Expect(201);
        return await stranger.SignInAsync(email, TestClinic.Password);
    }

    /// <summary>Waits for its end and gives its exit code.</summary>
    public async Task<int> ExitCodeAsync()
    {
        await process.WaitForExitAsync(TestContext.Current.CancellationToken).WaitAsync(Patience, TestContext.Current.CancellationToken);
        return process.ExitCode;
    }

    /// <summary>Asks it to end, as a service manager does.</summary>
    public async Task TerminateAsync()
    {
        using var kill = Process.Start("kill", ["-TERM", process.Id.ToString(CultureInfo.InvariantCulture)]);
        await kill.WaitForExitAsync(TestContext.Current.CancellationToken);
        kill.ExitCode.ShouldBe(0);
    }

    /// <summary>Kills it as an operating system does (SIGKILL): it gets no chance to finish anything.</summary>
    public async Task KillAsync()
    {
        process.Kill(entireProcessTree: true);
        await process.WaitForExitAsync(TestContext.Current.CancellationToken);
    }

    public async ValueTask DisposeAsync()
    {
        if (!process.HasExited)
        {
            process.Kill(entireProcessTree: true);
            await process.WaitForExitAsync();
        }

        process.Dispose();
    }

    // What stands in the environment of the run must not reach a test.
    private static bool IsSetting(string name) =>
        name.StartsWith("STAGEDMARGINS_", StringComparison.Ordinal) || name.StartsWith("ASPNETCORE_", StringComparison.Ordinal) || name.Contains("__", StringComparison.Ordinal);

    private void Hear(StringBuilder into, string? line)
    {
        if (line is null)
        {
            return;
        }

        lock (into)
        {
            into.AppendLine(CultureInfo.InvariantCulture, $"{line}");
        }

        if (Listening().Match(line) is { Success: true } match)
        {
            address.TrySetResult(new Uri(match.Groups[1].Value));
        }
    }

    private static string Said(StringBuilder from)
    {
        lock (from)
        {
            return from.ToString();
        }
    }

    [GeneratedRegex(@"One-time code for the first administrator: (\S+)")]
    private static partial Regex CodeLine();

    [GeneratedRegex(@"[Ll]istening (?:on|at):?\s+(http\S+)")]
    private static partial Regex Listening();
}
