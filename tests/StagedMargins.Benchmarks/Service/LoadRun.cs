using System.Collections.Concurrent;
using System.Diagnostics;

namespace StagedMargins.Benchmarks.Service;

/// <summary>What a load run measured.</summary>
/// <param name="PerSecond">Requests answered in a second.</param>
/// <param name="Median">Half of them took no longer, milliseconds.</param>
/// <param name="P99">99 of 100 took no longer, milliseconds.</param>
internal sealed record LoadResult(double PerSecond, double Median, double P99)
{
    public override string ToString() => FormattableString.Invariant($"{PerSecond,8:0}/s   p50 {Median,6:0.0} ms   p99 {P99,6:0.0} ms");
}

/// <summary>Sends requests over several connections at once, each as soon as the last was answered.</summary>
internal static class LoadRun
{
    private static readonly TimeSpan WarmUp = TimeSpan.FromSeconds(20);

    /// <summary>Runs.</summary>
    /// <param name="connections">How many at once.</param>
    /// <param name="duration">For how long, after the warm-up.</param>
    /// <param name="send">Sends one request and reads its answer: which connection, and how many it has sent before. False where there is no more to send.</param>
    internal static async Task<LoadResult> RunAsync(int connections, TimeSpan duration, Func<int, int, Task<bool>> send)
    {
        var times = new ConcurrentBag<double>();
        var clock = Stopwatch.StartNew();
        var end = WarmUp + duration;
        await Task.WhenAll(Enumerable.Range(0, connections).Select(connection => Task.Run(async () =>
        {
            for (var i = 0; clock.Elapsed < end; i++)
            {
                var began = clock.Elapsed;
                if (!await send(connection, i))
                {
                    throw new InvalidOperationException("There was not enough to send for the whole run.");
                }

                if (began >= WarmUp)
                {
                    times.Add((clock.Elapsed - began).TotalMilliseconds);
                }
            }
        })));
        var sorted = times.Order().ToList();
        return new LoadResult(sorted.Count / (clock.Elapsed - WarmUp).TotalSeconds, sorted[sorted.Count / 2], sorted[sorted.Count * 99 / 100]);
    }
}
