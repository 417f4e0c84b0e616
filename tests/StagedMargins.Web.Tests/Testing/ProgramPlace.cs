using System.Diagnostics;
using System.Globalization;

namespace StagedMargins.Web.Tests.Testing;

/// <summary>How a task of the program ended.</summary>
/// <param name="Code">Its exit code.</param>
/// <param name="Output">What it said.</param>
/// <param name="Errors">What it said on the stream for errors.</param>
public sealed record TaskEnd(int Code, string Output, string Errors);

/// <summary>
/// Surroundings for the real program, in which it may be started again and again: a home folder with the history keys, a port that
/// stays the same, and a database.
/// </summary>
/// <param name="settings">Settings, such as those of a test database.</param>
public sealed class ProgramPlace(IReadOnlyDictionary<string, string> settings) : IAsyncDisposable
{
    private readonly DirectoryInfo home = Directory.CreateTempSubdirectory("margins-home-");
    private readonly Uri address = new(string.Create(CultureInfo.InvariantCulture, $"http://127.0.0.1:{FreePort.Find()}"));

    /// <summary>A folder that is gone with the place.</summary>
    public string Folder => home.FullName;

    /// <summary>Someone who has not signed in, on whichever process runs here.</summary>
    public Caller Stranger => field ??= new Caller(new HttpClient { BaseAddress = address, Timeout = TimeSpan.FromSeconds(60) }, token: null);

    // The keys are those that the program makes in its own home, as on a machine of its own.
    private Dictionary<string, string> Environment => settings.Where(pair => pair.Key != "History:Keys").Append(new("Serilog:MinimumLevel:Default", "Warning"))
        .ToDictionary(pair => pair.Key.Replace(":", "__", StringComparison.Ordinal), pair => pair.Value);

    /// <summary>Starts the service and waits until it listens.</summary>
    public async Task<ServiceProcess> StartAsync()
    {
        var process = Launch();
        await process.ListeningAsync();
        return process;
    }

    /// <summary>Starts the service and does not wait for it.</summary>
    public ServiceProcess Launch() => ServiceProcess.Start(Folder, Environment, $"--urls={address}");

    /// <summary>Begins a task, which whoever asked for it ends or waits for.</summary>
    public Process Begin(params string[] arguments) => Process.Start(ServiceProcess.Surroundings(Folder, Environment, arguments))!;

    /// <summary>Runs a task to its end.</summary>
    public async Task<TaskEnd> RunAsync(params string[] arguments)
    {
        using var process = Begin(arguments);
        var (output, errors) = (process.StandardOutput.ReadToEndAsync(), process.StandardError.ReadToEndAsync());
        await process.WaitForExitAsync();
        return new TaskEnd(process.ExitCode, await output, await errors);
    }

    public ValueTask DisposeAsync()
    {
        home.Delete(recursive: true);
        return ValueTask.CompletedTask;
    }
}
