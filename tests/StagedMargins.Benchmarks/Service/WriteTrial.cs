using System.Net.Http.Headers;
using System.Text;

namespace StagedMargins.Benchmarks.Service;

/// <summary>How many readings a second the program records over HTTP.</summary>
internal static class WriteTrial
{
    private const int Connections = 32;
    private const int Cases = 1024;
    private static readonly TimeSpan Duration = TimeSpan.FromSeconds(15);

    /// <summary>Runs and prints.</summary>
    internal static async Task RunAsync(string server)
    {
        await using var service = await ServiceUnderLoad.StartAsync(server);
        var ids = await LoadedCases.OpenAsync(service.Surgeon, Cases);
        Console.WriteLine("ready");
        var ours = await LoadRun.RunAsync(Connections, Duration, async (connection, i) =>
        {
            // Each connection has cases of its own and goes round them, a block further each time.
            const int own = Cases / Connections;
            if (i >= own * LoadedCases.Blocks)
            {
                return false;
            }

            var (path, body) = LoadedCases.Reading(ids[(connection * own) + (i % own)], i / own);
            using var request = new HttpRequestMessage(HttpMethod.Post, path) { Content = new StringContent(body, Encoding.UTF8, new MediaTypeHeaderValue("application/json")) };
            request.Headers.Add("Idempotency-Key", FormattableString.Invariant($"load-{connection}-{i}"));
            using var response = await service.Surgeon.SendAsync(request);
            var answer = await response.Content.ReadAsStringAsync();
            return response.IsSuccessStatusCode ? true : throw new InvalidOperationException($"{path} was answered {(int)response.StatusCode}: {answer}");
        });
        Console.WriteLine(FormattableString.Invariant($"readings over HTTP   {ours}   memory {service.MemoryMiB:0} MiB"));
        var bare = await PgBench.RunAsync(service.Connection, Connections, Duration);
        Console.WriteLine(FormattableString.Invariant($"pgbench, the same    {bare,8:0}/s   ratio {ours.PerSecond / bare:0.00}"));
    }
}
