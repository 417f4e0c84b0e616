using System.Text.Json.Nodes;
using Npgsql;

namespace StagedMargins.Benchmarks.Service;

/// <summary>How many margins a second the program sends, beside a bare route that reads one row and sends the same bytes; turn and turn about.</summary>
internal static class ReadTrial
{
    private const int Connections = 32;
    private const int Cases = 64;
    private const int Rounds = 2;
    private static readonly TimeSpan Duration = TimeSpan.FromSeconds(8);

    /// <summary>Runs and prints.</summary>
    internal static async Task RunAsync(string server)
    {
        await using var service = await ServiceUnderLoad.StartAsync(server);
        var ids = await LoadedCases.OpenAsync(service.Surgeon, Cases);
        foreach (var id in ids)
        {
            for (var block = 0; block < LoadedCases.Blocks; block += 2)
            {
                var (path, body) = LoadedCases.Reading(id, block);
                await ServiceUnderLoad.PostAsync(service.Surgeon, path, JsonNode.Parse(body)!);
            }
        }

        await KeepRowsAsync(service, ids);
        var (bareProcess, bare) = await BareService.StartAsync(service.Connection, Path.GetTempPath());
        try
        {
            for (var round = 1; round <= Rounds; round++)
            {
                var floor = await RunAsync(bare, i => $"/rows/{ids[i]}");
                var ours = await RunAsync(service.Surgeon, i => $"/api/cases/{ids[i]}/margins");
                Console.WriteLine(FormattableString.Invariant($"margins over HTTP    {ours}   memory {service.MemoryMiB:0} MiB"));
                Console.WriteLine(FormattableString.Invariant($"bare route           {floor}   ratio {ours.PerSecond / floor.PerSecond:0.00}"));
            }
        }
        finally
        {
            bareProcess.Kill();
            bare.Dispose();
        }
    }

    private static Task<LoadResult> RunAsync(HttpClient http, Func<int, string> path) => LoadRun.RunAsync(Connections, Duration, async (connection, i) =>
    {
        using var response = await http.GetAsync(path(((connection * 7) + i) % Cases));
        await response.Content.ReadAsByteArrayAsync();
        return response.IsSuccessStatusCode ? true : throw new InvalidOperationException($"{path(0)} was answered {(int)response.StatusCode}.");
    });

    private static async Task KeepRowsAsync(ServiceUnderLoad service, IReadOnlyList<string> ids)
    {
        await using var db = new NpgsqlConnection(service.Connection);
        await db.OpenAsync();
        await using (var create = new NpgsqlCommand("CREATE TABLE load_rows (id uuid PRIMARY KEY, bytes bytea NOT NULL)", db))
        {
            await create.ExecuteNonQueryAsync();
        }

        foreach (var id in ids)
        {
            await using var insert = new NpgsqlCommand("INSERT INTO load_rows VALUES ($1, $2)", db)
            {
                Parameters = { new() { Value = Guid.Parse(id) }, new() { Value = await service.Surgeon.GetByteArrayAsync($"/api/cases/{id}/margins") } },
            };
            await insert.ExecuteNonQueryAsync();
        }
    }
}
