using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Sockets;

namespace StagedMargins.Web.Tests.Testing;

/// <summary>How a task of the program ended.</summary>
/// <param name="Code">Its exit code.</param>
/// <param name="Output">What it said.</param>
/// <param name="Errors">What it said on the stream for errors.</param>
public sealed record TaskEnd(int Code, string Output, string Errors);

/// <summary>
/// A machine's worth of surroundings for the real program as a process: a home folder with the history keys, a port, and a database.
/// </summary>
/// <param name="settings">Settings, such as those of a test database.</param>
public sealed class ProgramPlace(IReadOnlyDictionary<string, string> settings) : IAsyncDisposable
{
    private readonly DirectoryInfo home = Directory.CreateTempSubdirectory("margins-home-");
    private readonly Uri address = new(string.Create(CultureInfo.InvariantCulture, $"http://127.0.0.1:{FreePort()}"));

    /// <summary>A folder that is gone with the place.</summary>
    public string Folder => home.FullName;

    /// <summary>Someone who has not signed in, on whichever process runs here.</summary>
    public Caller Stranger { get; private set; } = null!;

    /// <summary>Starts the service and waits until it can work.</summary>
    public async Task<KillableService> StartAsync()
    {
        Stranger = new Caller(new HttpClient { BaseAddress = address, Timeout = TimeSpan.FromSeconds(60) }, token: null);
        var process = Launch();
        await process.ReadyAsync();
        return process;
    }

    /// <summary>Starts the service and does not wait for it.</summary>
    public KillableService Launch() => new(Process.Start(Program($"--urls={address}"))!, address);

    /// <summary>Runs a task to its end.</summary>
    public async Task<TaskEnd> RunAsync(params string[] arguments)
    {
        using var process = Process.Start(Program(arguments))!;
        var (output, errors) = (process.StandardOutput.ReadToEndAsync(), process.StandardError.ReadToEndAsync());
        await process.WaitForExitAsync();
        return new TaskEnd(process.ExitCode, await output, await errors);
    }

    /// <summary>Begins a task, which whoever asked for it ends or waits for.</summary>
    public Process Begin(params string[] arguments) => Process.Start(Program(arguments))!;

    public ValueTask DisposeAsync()
    {
        home.Delete(recursive: true);
        return ValueTask.CompletedTask;
    }

    private ProcessStartInfo Program(params string[] arguments)
    {
        var start = new ProcessStartInfo("dotnet", [Path.Combine(AppContext.BaseDirectory, "StagedMargins.Web.dll"), .. arguments])
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            WorkingDirectory = home.FullName,
        };
        start.Environment["HOME"] = start.Environment["XDG_DATA_HOME"] = home.FullName;
        start.Environment["Serilog__MinimumLevel__Default"] = "Warning";
        foreach (var (key, value) in settings)
        {
            start.Environment[key.Replace(":", "__", StringComparison.Ordinal)] = value;
        }

        return start;
    }

    private static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }
}
