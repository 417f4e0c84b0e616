using System.Text.Json.Nodes;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using StagedMargins.Web.Commands;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Fuzz;

/// <summary>
/// Requests by chance to every address that the service has: none is an error of the program, each refusal is a problem that a
/// person can read, and a refused request leaves nothing behind.
/// </summary>
public abstract class FuzzTests(TestClinic clinic)
{
    private const int Batch = 50;
    private const int HeldByConnection = 32 * 1024;
    private readonly Dictionary<int, int> statuses = [];
    private readonly List<string?> tokens = [];
    private readonly SortedDictionary<string, string> faults = new(StringComparer.Ordinal);

    [Fact]
    public async Task No_request_breaks_the_service_and_no_refused_one_is_kept()
    {
        var random = new Random(LongRun.Seed());

        // As behind a proxy that speaks TLS, without which the pages refuse everything.
        await using var host = ServiceHost.Start(clinic.Database, clock: null, ("Proxy:KnownProxies", "127.0.0.1"));
        var cases = new List<string>();
        for (var i = 0; i < 4; i++)
        {
            cases.Add(i % 2 == 0 ? await clinic.Surgeon.OpenWithLayerAsync() : await clinic.Surgeon.OpenClearAsync());
        }

        var routes = FuzzRoute.Of(host.Services.GetRequiredService<EndpointDataSource>());
        routes.Count(route => route.WritesCase).ShouldBeGreaterThan(8);
        var requests = new FuzzRequests(random, routes, () => tokens, cases);

        // A connection for each, so that none is sent into one that the service is closing after the request before.
        using var http = new HttpClient(new SocketsHttpHandler { AllowAutoRedirect = false, UseCookies = false, PooledConnectionLifetime = TimeSpan.Zero }) { Timeout = TimeSpan.FromSeconds(60) };
        var batches = LongRun.Times(600, 20_000) / Batch;
        for (var batch = 0; batch < batches; batch++)
        {
            await SignInAsync(host.Stranger());
            await RunBatchAsync(requests, http, host.Address, cases);
        }

        await BrokenAsync(random);
        string.Join('\n', faults.Select(fault => $"{fault.Key}: {fault.Value}")).ShouldBeEmpty();
        using var said = new StringWriter();
        (await VerifyCommand.RunAsync(clinic.Host.Services, said)).ShouldBe(0, said.ToString());
        LongRun.Say($"{clinic.Engine}: {batches * Batch} requests to {routes.Count} addresses; answers {string.Join(", ", statuses.OrderBy(pair => pair.Key).Select(pair => $"{pair.Key}: {pair.Value}"))}");
        statuses.Keys.ShouldContain(200);

        // A short run may be without a write that is taken.
        if (LongRun.IsOn)
        {
            statuses.Keys.ShouldContain(201);
            statuses.Keys.ShouldContain(409);
        }
    }

    // One after another, so that the rows there afterwards are those before and one change for each write that was answered.
    private async Task RunBatchAsync(FuzzRequests requests, HttpClient http, Uri service, List<string> cases)
    {
        var (before, written) = (await clinic.Database.WrittenAsync(), 0);
        for (var i = 0; i < Batch; i++)
        {
            var route = requests.Route();
            using var request = requests.To(route, service);
            written += await SendAsync(http, request, route, cases) ? 1 : 0;
        }

        var after = await clinic.Database.WrittenAsync();
        (after["entries of cases"] - before["entries of cases"]).ShouldBe(written);
        (after["versions"] - before["versions"]).ShouldBe(after["ledger_entries"] - before["ledger_entries"]);
        if (written == 0)
        {
            string[] ofCases = ["cases", "second_reads", "photographs", "kept_answers"];
            ofCases.ShouldAllBe(table => after[table] == before[table]);
        }
    }

    private async Task<bool> SendAsync(HttpClient http, HttpRequestMessage request, FuzzRoute route, List<string> cases)
    {
        using var response = await AnswerAsync(http, request);
        if (response is null)
        {
            return false;
        }

        var status = (int)response.StatusCode;
        statuses[status] = statuses.GetValueOrDefault(status) + 1;
        if (response.Content.Headers.ContentType?.MediaType == "text/event-stream")
        {
            return false;
        }

        var body = await response.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
        if (FaultOf(response, body, request) is { } fault)
        {
            // One of a kind is enough to find it; the seed and the address repeat it.
            faults.TryAdd($"{route.Method} {route.Pattern}, {status}, {fault}", $"{request.Method} {Short(request.RequestUri!.PathAndQuery)} {Short(body)}");
        }

        if (status is not (200 or 201) || request.Method != HttpMethod.Post || !route.WritesCase || response.Headers.Contains("Idempotency-Replayed")
            || request.RequestUri!.AbsolutePath.Contains("rehearsal", StringComparison.OrdinalIgnoreCase))
        {
            return false;
        }

        if (route.Pattern == "/api/cases" && cases.Count < 40)
        {
            cases.Add(JsonNode.Parse(body)!["id"]!.GetValue<string>());
        }

        return true;
    }

    // A request may be refused while its body is still coming. Where that is more than the connection holds, the client may find
    // it closed before it has read the answer.
    private static async Task<HttpResponseMessage?> AnswerAsync(HttpClient http, HttpRequestMessage request)
    {
        try
        {
            return await http.SendAsync(request, HttpCompletionOption.ResponseHeadersRead, TestContext.Current.CancellationToken);
        }
        catch (HttpRequestException) when (request.Content is { } content && (content.Headers.ContentLength ?? long.MaxValue) > HeldByConnection)
        {
            return null;
        }
        catch (Exception e) when (e is OperationCanceledException or HttpRequestException)
        {
            throw new InvalidOperationException($"No answer to {request.Method} {Short(request.RequestUri!.PathAndQuery)}.", e);
        }
    }

    private static string? FaultOf(HttpResponseMessage response, string body, HttpRequestMessage request)
    {
        var (status, type) = ((int)response.StatusCode, response.Content.Headers.ContentType?.MediaType);
        if (status < 400 || (status < 500 && (request.Method == HttpMethod.Head || IsOfPage(request, type, body) || IsOfServer(request, status, body))))
        {
            return null;
        }

        if (status >= 500 || type != "application/problem+json" || body.Length == 0)
        {
            return $"not a refusal but {type ?? "nothing"}";
        }

        var problem = JsonNode.Parse(body)!.AsObject();
        var isWhole = (int?)problem["status"] == status && new[] { "title", "detail" }.All(name => !string.IsNullOrWhiteSpace((string?)problem[name]));
        return isWhole ? null : "not a whole problem";
    }

    private static string Short(string text) => text.Length > 300 ? text[..300] : text;

    // Pages and files answer people: with a page, or in plain words where the Accept header takes no problem.
    private static bool IsOfPage(HttpRequestMessage request, string? type, string body)
    {
        var path = request.RequestUri!.OriginalString[request.RequestUri.GetLeftPart(UriPartial.Authority).Length..];
        var isApi = path.StartsWith("/api/", StringComparison.OrdinalIgnoreCase) && !path.Contains("%2e", StringComparison.OrdinalIgnoreCase) && !path.Contains("..", StringComparison.Ordinal);
        return !isApi && body.Length > 0 && type is ("text/html" or "text/plain");
    }

    // The server itself refuses what is no address of HTTP, or too long, before the program sees it.
    private static bool IsOfServer(HttpRequestMessage request, int status, string body) =>
        body.Length == 0 && (status == 414 || request.RequestUri!.OriginalString.Contains("%00", StringComparison.Ordinal));

    private async Task BrokenAsync(Random random)
    {
        var before = await clinic.Database.WrittenAsync();
        var broken = new BrokenRequests(random, clinic.Host.Address, tokens[0]!);
        for (var i = 0; i < LongRun.Times(60, 1000); i++)
        {
            (await broken.SendAsync(TestContext.Current.CancellationToken)).ShouldBeOneOf(0, 400, 401, 408, 411, 413, 431, 505);
        }

        (await clinic.Database.WrittenAsync()).ShouldBe(before);
    }

    // Some requests end the sign-ins of whoever sends them, or of someone else. Most are sent by surgeons, who may do most.
    private async Task SignInAsync(Caller stranger)
    {
        string[] people = [TestClinic.SurgeonEmail, TestClinic.SurgeonEmail, TestClinic.SurgeonEmail, TestClinic.SurgeonEmail, TestClinic.SurgeonEmail, TestClinic.OtherSurgeonEmail, TestClinic.HistotechEmail, TestClinic.ManagerEmail, TestClinic.AdministratorEmail];
        if (tokens.Count > 0 && await StillSignedInAsync(stranger))
        {
            return;
        }

        tokens.Clear();
        var signedIn = new Dictionary<string, string?>();
        foreach (var email in people)
        {
            signedIn[email] = signedIn.GetValueOrDefault(email) ?? (await stranger.SignInAsync(email, TestClinic.Password)).Token;
            tokens.Add(signedIn[email]);
        }

        tokens.Add(null);
    }

    private async Task<bool> StillSignedInAsync(Caller stranger)
    {
        foreach (var token in tokens.OfType<string>().Distinct())
        {
            if ((await stranger.With(token).GetAsync("/api/clinic")).Status == 401)
            {
                return false;
            }
        }

        return true;
    }
}

/// <summary>On a SQLite file.</summary>
public sealed class FuzzTestsOnSqlite(SqliteClinic clinic) : FuzzTests(clinic), IClassFixture<SqliteClinic>;

/// <summary>On PostgreSQL.</summary>
public sealed class FuzzTestsOnPostgres(PostgresClinic clinic) : FuzzTests(clinic), IClassFixture<PostgresClinic>;
