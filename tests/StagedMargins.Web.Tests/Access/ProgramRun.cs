using System.Diagnostics;
using System.Globalization;
using System.Text;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Access;

/// <summary>The built program in a process of its own, and everything it says.</summary>
public sealed class ProgramRun : IAsyncDisposable
{
    private readonly Process process;
    private readonly StringBuilder said = new();

    private ProgramRun(Process process, Uri address)
    {
        (this.process, Address) = (process, address);
        process.OutputDataReceived += (_, line) => Hear(line.Data);
        process.ErrorDataReceived += (_, line) => Hear(line.Data);
        process.BeginOutputReadLine();
        process.BeginErrorReadLine();
    }

    /// <summary>Where it listens.</summary>
    public Uri Address { get; }

    /// <summary>What it has said on both streams.</summary>
    public string Said
    {
        get
        {
            lock (said)
            {
                return said.ToString();
            }
        }
    }

    /// <summary>Someone who has not signed in.</summary>
    public Caller Stranger() => new(new HttpClient { BaseAddress = Address }, token: null);

    /// <summary>Starts the service and waits until it answers.</summary>
    public static Task<ProgramRun> ServeAsync(TestDatabase database, params string[] more) => ServeDemoAsync(database, null, more);

    /// <summary>The same with the demo's password in the environment.</summary>
    public static async Task<ProgramRun> ServeDemoAsync(TestDatabase database, string? demoPassword, params string[] more)
    {
        var run = Start(database, null, demoPassword, more);
        using var http = new HttpClient { BaseAddress = run.Address };
        for (var attempt = 0; ; attempt++)
        {
            try
            {
                (await http.GetAsync("/health/ready", TestContext.Current.CancellationToken)).EnsureSuccessStatusCode();
                return run;
            }
            catch (HttpRequestException) when (attempt < 300 && !run.process.HasExited)
            {
                await Task.Delay(200, TestContext.Current.CancellationToken);
            }
        }
    }

    /// <summary>Runs one of its tasks to the end and gives what it said.</summary>
    public static async Task<string> TaskAsync(TestDatabase database, string task)
    {
        await using var run = Start(database, task, null);
        (await run.ExitAsync()).ShouldBe(0, run.Said);
        return run.Said;
    }

    /// <summary>Waits until it ends by itself and gives its exit code.</summary>
    public async Task<int> ExitAsync()
    {
        await process.WaitForExitAsync(TestContext.Current.CancellationToken);
        process.WaitForExit();
        return process.ExitCode;
    }

    /// <summary>Asks it to stop and waits for its last word.</summary>
    public async Task StopAsync()
    {
        if (!process.HasExited)
        {
            using var kill = Process.Start("kill", ["-TERM", process.Id.ToString(CultureInfo.InvariantCulture)]);
            await kill.WaitForExitAsync();
            await process.WaitForExitAsync();
        }

        process.WaitForExit();
    }

    public async ValueTask DisposeAsync()
    {
        await StopAsync();
        process.Dispose();
    }

    /// <summary>Starts it, with a task or as the service, and waits for nothing.</summary>
    public static ProgramRun Start(TestDatabase database, string? task, string? demoPassword, params string[] more)
    {
        var address = new Uri(string.Create(CultureInfo.InvariantCulture, $"http://127.0.0.1:{FreePort.Find()}"));
        var settings = database.Settings.Select(pair => $"--{pair.Key}={pair.Value}");
        string[] arguments = [Repository.Program, .. task is null ? Array.Empty<string>() : [task], .. settings, $"--Urls={address.AbsoluteUri.TrimEnd('/')}", .. more];
        var start = new ProcessStartInfo("dotnet", arguments) { RedirectStandardOutput = true, RedirectStandardError = true };
        start.Environment["STAGEDMARGINS_DEMO_PASSWORD"] = demoPassword;
        TestClock.SetFor(start.Environment);
        return new ProgramRun(Process.Start(start)!, address);
    }

    private void Hear(string? line)
    {
        lock (said)
        {
            said.AppendLine(line);
        }
    }
}
