using System.Diagnostics;
using System.Globalization;

namespace StagedMargins.Web.Tests.Testing;

/// <summary>
/// The program with a home folder, history keys, a port and a record of its own, in which it may be started again and again: in a
/// process, or in this one.
/// </summary>
/// <param name="settings">Settings, such as those of a test database.</param>
public sealed class Installation(IReadOnlyDictionary<string, string> settings) : IAsyncDisposable
{
    private readonly DirectoryInfo home = Directory.CreateTempSubdirectory("margins-home-");
    private readonly Uri address = new(string.Create(CultureInfo.InvariantCulture, $"http://127.0.0.1:{FreePort.Find()}"));

    /// <summary>A folder that is gone with the installation.</summary>
    public string Folder => home.FullName;

    /// <summary>Where the keys are that seal its histories: those of the settings, or else made at its first start.</summary>
    public string HistoryKeyFile => field ??= settings.GetValueOrDefault("History:KeyFile") ?? Keep(Path.Combine(Folder, "history.keys"));

    /// <summary>Someone who has not signed in, on whichever process runs here.</summary>
    public Caller Stranger => field ??= new Caller(new HttpClient { BaseAddress = address, Timeout = TimeSpan.FromSeconds(60) }, token: null);

    private Dictionary<string, string> Settings => new(settings.Where(pair => pair.Key != "History:Keys"))
    {
        ["History:KeyFile"] = HistoryKeyFile,
        ["Serilog:MinimumLevel:Default"] = "Warning",
    };

    private Dictionary<string, string> Environment => Settings.ToDictionary(pair => pair.Key.Replace(":", "__", StringComparison.Ordinal), pair => pair.Value);

    private string Keep(string file)
    {
        if (settings.GetValueOrDefault("History:Keys") is { } keys)
        {
            File.WriteAllText(file, keys);
        }

        return file;
    }

    /// <summary>Starts the service in a process and waits until it listens.</summary>
    public async Task<ServiceProcess> StartAsync()
    {
        var process = Launch();
        await process.ListeningAsync();
        return process;
    }

    /// <summary>Starts the service in a process and does not wait for it.</summary>
    public ServiceProcess Launch() => ServiceProcess.Start(Folder, Environment, $"--urls={address}");

    /// <summary>Starts the service in this process, on a port of its own. Its log is silent: what goes wrong here is brought about.</summary>
    public ServiceHost StartHost() => ServiceHost.Start(new Dictionary<string, string>(Settings) { ["Serilog:MinimumLevel:Default"] = "Fatal" });

    /// <summary>Begins a task in a process, which whoever asked for it ends or waits for.</summary>
    public Process Begin(params string[] arguments) => Process.Start(ServiceProcess.Surroundings(Folder, Environment, arguments))!;

    /// <summary>Runs a task to its end in this process.</summary>
    /// <param name="arguments">The task and what it is given, which goes before the installation's settings.</param>
    public Task<ProgramResult> RunAsync(params string[] arguments) => InProcessProgram.RunAsync(
        [.. arguments.Take(1), .. Settings.Select(pair => $"--{pair.Key}={pair.Value}"), .. arguments.Skip(1)]);

    /// <summary>Starts the service where that must fail, in this process.</summary>
    /// <param name="arguments">Further settings.</param>
    public Task<ProgramResult> FailToStartAsync(params string[] arguments) => InProcessProgram.RunAsync(
        [.. Settings.Select(pair => $"--{pair.Key}={pair.Value}"), $"--urls={address}", .. arguments]);

    public ValueTask DisposeAsync()
    {
        home.Delete(recursive: true);
        return ValueTask.CompletedTask;
    }
}
