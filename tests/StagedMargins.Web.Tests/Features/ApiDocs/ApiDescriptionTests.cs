using System.Text.Json;
using System.Text.Json.Nodes;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Features.ApiDocs;

[Collection<OnSqlite>]
public sealed class ApiDescriptionTests(SqliteClinic clinic)
{
    /// <summary>The environment variable that, set to 1, writes the served document down instead of comparing it.</summary>
    private const string Renew = "STAGEDMARGINS_RENEW";

    private static readonly string Committed = Path.Combine(Repository.Root, "docs", "openapi.json");
    private static readonly JsonSerializerOptions Readable = new() { WriteIndented = true, Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    [Fact]
    public async Task The_committed_description_is_the_one_served()
    {
        var served = await DocumentAsync();
        var text = served.ToJsonString(Readable).ReplaceLineEndings("\n") + "\n";
        if (Environment.GetEnvironmentVariable(Renew) == "1")
        {
            await File.WriteAllTextAsync(Committed, text, TestContext.Current.CancellationToken);
        }

        var committed = await File.ReadAllTextAsync(Committed, TestContext.Current.CancellationToken);
        (committed.ReplaceLineEndings("\n") == text).ShouldBeTrue($"docs/openapi.json is not what the service serves; run this test with {Renew}=1 and look at the difference.");
    }

    [Fact]
    public async Task The_description_names_no_machine()
    {
        var document = await DocumentAsync();
        var text = document.ToJsonString();
        text.ShouldNotContain(clinic.Host.Address.Authority);
        text.ShouldNotContain("localhost");
        text.ShouldNotContain("127.0.0.1");
        (document["servers"]?.AsArray().Count ?? 0).ShouldBe(0);
    }

    [Fact]
    public async Task The_description_covers_every_route_of_the_contract()
    {
        var paths = (await DocumentAsync())["paths"]!.AsObject();
        foreach (var (method, path) in new[]
        {
            ("post", "/api/auth/login"), ("post", "/api/cases"), ("get", "/api/cases"), ("get", "/api/cases/{id}"),
            ("post", "/api/cases/{id}/stages"), ("post", "/api/cases/{id}/stages/rehearsal"), ("post", "/api/cases/{id}/stages/{n}/blocks"),
            ("post", "/api/cases/{id}/stages/{n}/times"), ("post", "/api/cases/{id}/stages/{n}/blocks/{label}/readings"),
            ("post", "/api/cases/{id}/stages/{n}/blocks/{label}/readings/{readingId}/countersign"), ("get", "/api/cases/{id}/margins"), ("post", "/api/cases/{id}/end"),
        })
        {
            paths[path].ShouldNotBeNull(path).AsObject().ContainsKey(method).ShouldBeTrue($"{method} {path}");
        }
    }

    [Fact]
    public async Task The_words_of_an_enum_are_those_of_the_domain()
    {
        var text = (await DocumentAsync())["components"]!["schemas"]!.ToJsonString();
        foreach (var word in new[] { "tumourOutstanding", "awaitingReadings", "perineuralInvasion", "rimAndBase", "stoppedWithTumour", "subcutaneousFat", "leftBehind" })
        {
            text.ShouldContain($"\"{word}\"");
        }
    }

    [Fact]
    public async Task A_page_lets_a_person_try_the_api()
    {
        var door = (await clinic.Stranger.GetAsync("/api-docs")).Expect(302);
        var page = (await clinic.Stranger.GetAsync(new Uri(new Uri(clinic.Host.Address, "/api-docs"), door.Header("Location")).AbsolutePath)).Expect(200);
        page.MediaType.ShouldBe("text/html");
        page.Body.ShouldContain("openapi/");
        page.Body.ShouldNotContain("https://");
    }

    private async Task<JsonNode> DocumentAsync()
    {
        var reply = (await clinic.Stranger.GetAsync("/openapi/v1.json")).Expect(200);
        reply.MediaType.ShouldBe("application/json");
        return reply.Json;
    }
}
