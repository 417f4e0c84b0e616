using System.Diagnostics;
using System.Globalization;

namespace StagedMargins.Web.Tests.Testing;

/// <summary>A throw-away PostgreSQL cluster of the machine's own programs, gone with all its data when it is disposed of.</summary>
internal sealed class PostgresCluster : IAsyncDisposable
{
    /// <summary>Where Debian and its kin keep the programs of each version.</summary>
    internal const string Home = "/usr/lib/postgresql";

    private readonly string programs;
    private readonly string folder;

    private readonly string options;

    private PostgresCluster(string programs, string folder, int port, bool durable)
    {
        (this.programs, this.folder) = (programs, folder);
        options = string.Create(
            CultureInfo.InvariantCulture,
            $"-p {port} -c listen_addresses=127.0.0.1 -c unix_socket_directories={folder} -c fsync={(durable ? "on" : "off")} -c max_connections=400");
        Connection = string.Create(CultureInfo.InvariantCulture, $"Host=127.0.0.1;Port={port};Username=postgres;Database=postgres");
    }

    /// <summary>How to reach it.</summary>
    internal string Connection { get; }

    /// <summary>Makes and starts a cluster, or gives null where the machine has no PostgreSQL.</summary>
    /// <param name="durable">True where what is committed must outlive a crash, at the cost of speed.</param>
    internal static async Task<PostgresCluster?> StartAsync(bool durable = false)
    {
        var programs = Directory.Exists(Home)
            ? Directory.GetDirectories(Home).Select(version => Path.Combine(version, "bin")).Where(bin => File.Exists(Path.Combine(bin, "initdb"))).Order().LastOrDefault()
            : null;
        if (programs is null)
        {
            return null;
        }

        var folder = Path.Combine(Path.GetTempPath(), $"pg-{Guid.NewGuid():N}");
        await (Environment.IsPrivilegedProcess
            ? RunAsync("install", "-d", "-o", "postgres", "-g", "postgres", "-m", "0700", folder)
            : RunAsync("install", "-d", "-m", "0700", folder));
        var cluster = new PostgresCluster(programs, folder, FreePort.Find(), durable);
        await cluster.RunAsOwnerAsync("initdb", "-D", $"{folder}/data", "-U", "postgres", "-A", "trust", "-E", "UTF8", "--locale=C.UTF-8", "--no-sync");
        await cluster.StartAgainAsync();
        return cluster;
    }

    /// <summary>Starts it after it was stopped.</summary>
    internal Task StartAgainAsync() => RunAsOwnerAsync("pg_ctl", "-D", $"{folder}/data", "-w", "-l", $"{folder}/log", "-o", options, "start");

    /// <summary>Stops it.</summary>
    /// <param name="mode"><c>fast</c> ends sessions in order; <c>immediate</c> is a crash.</param>
    internal Task StopAsync(string mode) => RunAsOwnerAsync("pg_ctl", "-D", $"{folder}/data", "-m", mode, "-w", "stop");

    /// <summary>Freezes it: its sockets take what is sent, and nobody answers.</summary>
    internal Task FreezeAsync() => SignalAsync("STOP");

    /// <summary>Lets it go on after it was frozen.</summary>
    internal Task ThawAsync() => SignalAsync("CONT");

    private async Task SignalAsync(string signal)
    {
        var postmaster = (await File.ReadAllLinesAsync($"{folder}/data/postmaster.pid"))[0];
        await RunAsync("sh", "-c", $"kill -{signal} {postmaster} $(pgrep -P {postmaster})");
    }

    public async ValueTask DisposeAsync()
    {
        // A test that failed while the server was down must be seen to fail for its own reason.
        if (File.Exists($"{folder}/data/postmaster.pid"))
        {
            await StopAsync("immediate");
        }

        Directory.Delete(folder, recursive: true);
    }

    // PostgreSQL refuses to run as root, so root hands its programs to the account that Debian makes for them.
    private Task RunAsOwnerAsync(string program, params string[] arguments) => Environment.IsPrivilegedProcess
        ? RunAsync("runuser", ["-u", "postgres", "--", Path.Combine(programs, program), .. arguments])
        : RunAsync(Path.Combine(programs, program), arguments);

    private static async Task RunAsync(string program, params string[] arguments)
    {
        // The server that pg_ctl leaves behind keeps the streams it was born with, so none are redirected; they go nowhere.
        using var process = Process.Start(new ProcessStartInfo("sh", ["-c", "exec \"$0\" \"$@\" >/dev/null 2>&1", program, .. arguments]) { WorkingDirectory = "/" })!;
        await process.WaitForExitAsync();
        if (process.ExitCode != 0)
        {
            throw new InvalidOperationException($"{program} {string.Join(' ', arguments)} ended with {process.ExitCode}.");
        }
    }
}
