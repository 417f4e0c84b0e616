using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Http.Headers;
using System.Net.Http.Json;
using System.Net.Sockets;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Npgsql;

namespace StagedMargins.Benchmarks.Service;

/// <summary>The program in a process of its own on an empty database of PostgreSQL, with a clinic and a surgeon who is signed in.</summary>
internal sealed partial class ServiceUnderLoad : IAsyncDisposable
{
    internal const string SurgeonEmail = "surgeon@load.invalid";
    private const string Password = "a long enough pass phrase";

    private readonly Process process;
    private readonly DirectoryInfo home;

    private ServiceUnderLoad(Process process, DirectoryInfo home, HttpClient surgeon, string connection)
    {
        (this.process, this.home, Surgeon, Connection) = (process, home, surgeon, connection);
    }

    /// <summary>Calls as the surgeon.</summary>
    internal HttpClient Surgeon { get; }

    /// <summary>The database.</summary>
    internal string Connection { get; }

    /// <summary>Memory that the process holds, in MiB.</summary>
    internal double MemoryMiB
    {
        get
        {
            process.Refresh();
            return process.WorkingSet64 / 1048576.0;
        }
    }

    /// <summary>Starts it.</summary>
    /// <param name="server">A connection of an account that may make databases.</param>
    internal static async Task<ServiceUnderLoad> StartAsync(string server)
    {
        var name = $"margins_load_{Guid.NewGuid():N}";
        await using (var admin = new NpgsqlConnection(server))
        {
            await admin.OpenAsync();
            await using var create = new NpgsqlCommand($"CREATE DATABASE {name}", admin);
            await create.ExecuteNonQueryAsync();
        }

        var connection = new NpgsqlConnectionStringBuilder(server) { Database = name }.ToString();
        var home = Directory.CreateTempSubdirectory("margins-load-");
        var address = new Uri(string.Create(CultureInfo.InvariantCulture, $"http://127.0.0.1:{FreePort()}"));
        var process = ProgramProcess.Start([Path.Combine(AppContext.BaseDirectory, "StagedMargins.Web.dll"), $"--urls={address}"], home.FullName, new Dictionary<string, string>
        {
            ["Database__Provider"] = "Postgres",
            ["ConnectionStrings__Default"] = connection,
            ["History__KeyFile"] = Path.Combine(home.FullName, "history.keys"),
        });
        var code = await ProgramProcess.SaidAsync(process, CodeLine());
        var stranger = new HttpClient { BaseAddress = address };
        await ReadyAsync(stranger);
        await PostAsync(stranger, "/api/auth/first-administrator", new JsonObject
        {
            ["code"] = code,
            ["email"] = "administrator@load.invalid",
            ["name"] = "Administrator of the load run",
            ["password"] = Password,
            ["clinic"] = "Clinic of the load run",
            ["timeZone"] = "America/Halifax",
        });
        var administrator = await SignInAsync(stranger, "administrator@load.invalid");
        var added = await PostAsync(administrator, "/api/people", new JsonObject { ["email"] = SurgeonEmail, ["name"] = "Surgeon of the load run", ["roles"] = new JsonArray("surgeon") });
        await PostAsync(stranger, "/api/auth/set-password", new JsonObject { ["email"] = SurgeonEmail, ["code"] = added["code"]!.GetValue<string>(), ["password"] = Password });
        return new ServiceUnderLoad(process, home, await SignInAsync(stranger, SurgeonEmail), connection);
    }

    /// <summary>Posts JSON and gives the answer.</summary>
    internal static async Task<JsonObject> PostAsync(HttpClient http, string path, JsonNode body)
    {
        using var response = await http.PostAsJsonAsync(path, body);
        var text = await response.Content.ReadAsStringAsync();
        return response.IsSuccessStatusCode
            ? text.Length == 0 ? [] : JsonNode.Parse(text)!.AsObject()
            : throw new InvalidOperationException($"{path} was answered {(int)response.StatusCode}: {text}");
    }

    /// <summary>A port that nobody listens on.</summary>
    internal static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }

    public async ValueTask DisposeAsync()
    {
        process.Kill(entireProcessTree: true);
        await process.WaitForExitAsync();
        process.Dispose();
        Surgeon.Dispose();
        home.Delete(recursive: true);
    }

    /// <summary>Waits until a service answers that it is ready.</summary>
    internal static async Task ReadyAsync(HttpClient http)
    {
        for (var attempt = 0; ; attempt++)
        {
            try
            {
                using var response = await http.GetAsync("/health/ready");
                return;
            }
            catch (HttpRequestException) when (attempt < 100)
            {
                await Task.Delay(100);
            }
        }
    }

    private static async Task<HttpClient> SignInAsync(HttpClient stranger, string email)
    {
        var answer = await PostAsync(stranger, "/api/auth/login", new JsonObject { ["email"] = email, ["password"] = Password });
        var http = new HttpClient(new SocketsHttpHandler()) { BaseAddress = stranger.BaseAddress };
        http.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", answer["accessToken"]!.GetValue<string>());
        return http;
    }

    [GeneratedRegex(@"One-time code for the first administrator: (\S+)")]
    private static partial Regex CodeLine();
}
