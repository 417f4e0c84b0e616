using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Routing;
using Microsoft.AspNetCore.StaticAssets;
using Microsoft.Extensions.DependencyInjection;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Hosting;

/// <summary>Walks every address that the running service has.</summary>
[Collection<OnSqlite>]
public sealed partial class EndpointTests(SqliteClinic clinic)
{
    // Open to everyone on purpose: signing in, health, the description of the API, and what pages are drawn with.
    private static readonly string[] OpenToAll =
    [
        "POST /api/auth/login", "POST /api/auth/refresh", "POST /api/auth/first-administrator", "POST /api/auth/set-password", "GET /api/auth/antiforgery",
        "POST /api/auth/passkeys/sign-in-options", "POST /api/auth/passkeys/sign-in",
        "GET /api/auth/oidc/start", "GET /api/auth/oidc/finish", "POST /api/auth/oidc/finish",
        "GET /health/live", "GET /health/ready", "GET /openapi/{documentName}.json",
        "GET /sign-in", "POST /sign-in", "GET /not-found", "POST /not-found",
    ];

    private static readonly string[] OpenBelow = ["/api-docs", "/fonts/"];

    [Fact]
    public async Task Every_address_of_the_api_but_a_short_list_wants_a_sign_in()
    {
        var guarded = Guarded().Where(address => address.Pattern.StartsWith("/api/", StringComparison.Ordinal)).ToList();
        guarded.Count.ShouldBeGreaterThan(20);
        foreach (var (method, pattern) in guarded)
        {
            var reply = await clinic.Stranger.SendAsync(new HttpRequestMessage(new HttpMethod(method), Filled(pattern)));
            reply.Status.ShouldBe(401, $"{method} {pattern}");
            reply.MediaType.ShouldBe("application/problem+json", $"{method} {pattern}");
            reply.Header("WWW-Authenticate").ShouldBe("Bearer", $"{method} {pattern}");
        }
    }

    [Fact]
    public async Task Every_page_but_a_short_list_leads_to_the_sign_in()
    {
        var guarded = Guarded().Where(address => !address.Pattern.StartsWith("/api/", StringComparison.Ordinal)).ToList();
        guarded.ShouldNotBeEmpty();
        foreach (var (method, pattern) in guarded)
        {
            var reply = await clinic.Stranger.SendAsync(new HttpRequestMessage(new HttpMethod(method), Filled(pattern)));
            reply.Status.ShouldBe(302, $"{method} {pattern}");
            new Uri(reply.Header("Location")!).AbsolutePath.ShouldBe("/sign-in", $"{method} {pattern}");
        }
    }

    [Fact]
    public void The_short_list_names_nothing_that_is_not_there() =>
        OpenToAll.Except(Addresses().Select(address => $"{address.Method} {address.Pattern}")).ShouldBeEmpty();

    [Theory]
    [InlineData("nonsense")]
    [InlineData("CfDJ8AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA")]
    public async Task A_made_up_token_opens_nothing(string token)
    {
        foreach (var (method, pattern) in Addresses().Where(address => address.Pattern.StartsWith("/api/cases", StringComparison.Ordinal)))
        {
            (await clinic.Stranger.With(token).SendAsync(new HttpRequestMessage(new HttpMethod(method), Filled(pattern)))).Status.ShouldBe(401, $"{method} {pattern}");
        }
    }

    [Fact]
    public async Task An_address_that_is_not_there_is_a_problem_too()
    {
        (await clinic.Surgeon.GetAsync("/api/nowhere")).ExpectProblem(404);
        (await clinic.Stranger.GetAsync("/api/nowhere")).ExpectProblem(401);
        (await clinic.Surgeon.SendAsync(new HttpRequestMessage(HttpMethod.Delete, "/api/cases"))).ExpectProblem(405);
    }

    private IEnumerable<(string Method, string Pattern)> Guarded() => Addresses().Where(address =>
        !OpenToAll.Contains($"{address.Method} {address.Pattern}")
        && !OpenBelow.Any(below => address.Pattern.StartsWith(below, StringComparison.Ordinal)));

    private IEnumerable<(string Method, string Pattern)> Addresses() =>
        from endpoint in clinic.Host.Services.GetRequiredService<EndpointDataSource>().Endpoints.OfType<RouteEndpoint>()
        where endpoint.Metadata.GetMetadata<StaticAssetDescriptor>() is null
        from method in endpoint.Metadata.GetMetadata<IHttpMethodMetadata>()?.HttpMethods ?? ["GET"]
        select (method, $"/{endpoint.RoutePattern.RawText!.Trim('/')}");

    private static string Filled(string pattern) => Parameter().Replace(pattern, parameter => parameter.Groups[1].Value switch
    {
        "guid" => Guid.NewGuid().ToString(),
        "int" => "1",
        _ => "A",
    });

    [GeneratedRegex(@"\{[^:}]*:?([^}]*)\}")]
    private static partial Regex Parameter();
}
