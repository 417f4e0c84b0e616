using System.Diagnostics;
using System.Globalization;
using System.Net.Http.Headers;
using System.Security.Claims;
using System.Text.Json.Nodes;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using Npgsql;

namespace StagedMargins.Benchmarks.Service;

/// <summary>A service that does nothing but let in who is signed in, read one row by its key and send its bytes: as fast as such a route can be.</summary>
internal static class BareService
{
    private const string Scheme = "Bearer";

    /// <summary>Runs it until it is killed.</summary>
    internal static async Task ServeAsync(string address, string connection)
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.WebHost.UseUrls(address);
        builder.Logging.ClearProviders();
        builder.Services.AddAuthentication(Scheme).AddBearerToken(Scheme);
        builder.Services.AddAuthorization();
        await using var source = NpgsqlDataSource.Create(new NpgsqlConnectionStringBuilder(connection) { MaxAutoPrepare = 10 }.ToString());
        var app = builder.Build();
        app.UseAuthentication();
        app.UseAuthorization();
        app.MapPost("/sign-in", () => Results.SignIn(new ClaimsPrincipal(new ClaimsIdentity([new Claim(ClaimTypes.NameIdentifier, "someone")], Scheme)), authenticationScheme: Scheme));
        app.MapGet("/rows/{id:guid}", async (Guid id, CancellationToken cancel) =>
        {
            await using var command = source.CreateCommand("SELECT bytes FROM load_rows WHERE id = $1");
            command.Parameters.AddWithValue(id);
            return Results.Bytes((byte[])(await command.ExecuteScalarAsync(cancel))!, "application/json");
        }).RequireAuthorization();
        await app.RunAsync();
    }

    /// <summary>Starts it in a process of its own.</summary>
    internal static async Task<(Process Process, HttpClient Http)> StartAsync(string connection, string home)
    {
        var address = new Uri(string.Create(CultureInfo.InvariantCulture, $"http://127.0.0.1:{ServiceUnderLoad.FreePort()}"));
        var process = ProgramProcess.Start([Path.Combine(AppContext.BaseDirectory, "StagedMargins.Benchmarks.dll"), "bare", address.ToString(), connection], home, new Dictionary<string, string>());
        var http = new HttpClient { BaseAddress = address };
        await ServiceUnderLoad.ReadyAsync(http);
        using var answer = await http.PostAsync("/sign-in", null);
        var token = JsonNode.Parse(await answer.Content.ReadAsStringAsync())!["accessToken"]!.GetValue<string>();
        http.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", token);
        return (process, http);
    }
}
