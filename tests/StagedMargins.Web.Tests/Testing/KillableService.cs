using System.Collections.Concurrent;
using System.Diagnostics;

namespace StagedMargins.Web.Tests.Testing;

/// <summary>The service as a process of its own, which can be killed like any other.</summary>
public sealed class KillableService : IAsyncDisposable
{
    private static readonly TimeSpan LongestStart = TimeSpan.FromSeconds(90);
    private readonly ConcurrentQueue<string> lines = new();
    private readonly Process process;
    private readonly HttpClient http;

    internal KillableService(Process process, Uri address)
    {
        this.process = process;
        http = new HttpClient { BaseAddress = address, Timeout = TimeSpan.FromSeconds(10) };
        process.OutputDataReceived += (_, line) => Note(line.Data);
        process.ErrorDataReceived += (_, line) => Note(line.Data);
        process.BeginOutputReadLine();
        process.BeginErrorReadLine();
    }

    /// <summary>What it said so far.</summary>
    public string Said => string.Join('\n', lines);

    /// <summary>Waits until it can work.</summary>
    /// <exception cref="InvalidOperationException">It ended, or takes too long.</exception>
    public async Task ReadyAsync()
    {
        var waited = Stopwatch.StartNew();
        while (!await IsReadyAsync())
        {
            if (process.HasExited || waited.Elapsed > LongestStart)
            {
                throw new InvalidOperationException($"The service did not start in {waited.Elapsed.TotalSeconds:0} s.\n{Said}");
            }

            await Task.Delay(50);
        }
    }

    /// <summary>True where it says that it can work.</summary>
    public async Task<bool> IsReadyAsync()
    {
        try
        {
            using var reply = await http.GetAsync(new Uri("/health/ready", UriKind.Relative));
            return reply.IsSuccessStatusCode;
        }
        catch (Exception e) when (e is HttpRequestException or TaskCanceledException)
        {
            return false;
        }
    }

    /// <summary>Kills it as an operating system does (SIGKILL): it gets no chance to finish anything.</summary>
    public async Task KillAsync()
    {
        process.Kill();
        await process.WaitForExitAsync();
    }

    public async ValueTask DisposeAsync()
    {
        await KillAsync();
        process.Dispose();
        http.Dispose();
    }

    private void Note(string? line)
    {
        if (line is not null)
        {
            lines.Enqueue(line);
        }
    }
}
