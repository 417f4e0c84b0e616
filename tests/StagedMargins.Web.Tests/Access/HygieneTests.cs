using System.Globalization;
using System.Net.Sockets;
using System.Text;
using System.Text.RegularExpressions;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Access;

[Collection<OnSqlite>]
public sealed partial class HygieneTests(SqliteClinic clinic)
{
    [Theory]
    [InlineData("/api/cases", true, 200)]
    [InlineData("/api/cases", false, 401)]
    [InlineData("/api/cases/nothing", true, 404)]
    [InlineData("/api/cases?limit=0", true, 400)]
    [InlineData("/api/auth/me", true, 200)]
    [InlineData("/health/ready", false, 200)]
    [InlineData("/openapi/v1.json", false, 200)]
    [InlineData("/sign-in", false, 200)]
    [InlineData("/api-docs/", false, 200)]
    public async Task Every_answer_tells_the_browser_to_do_no_more_than_is_meant(string path, bool signedIn, int status)
    {
        var reply = (await (signedIn ? clinic.Surgeon : clinic.Stranger).GetAsync(path)).Expect(status);
        reply.Header("X-Content-Type-Options").ShouldBe("nosniff");
        reply.Header("Referrer-Policy").ShouldBe("no-referrer");
        reply.Header("Permissions-Policy")!.ShouldContain("camera=()");
        reply.Header("Cross-Origin-Resource-Policy").ShouldBe("same-origin");
        reply.Header("Cache-Control")!.ShouldContain("no-store");
        reply.Header("Server").ShouldBeNull();
        reply.Header("X-Powered-By").ShouldBeNull();
        var content = Content(reply);
        content["default-src"].ShouldBe("'none'");
        content["frame-ancestors"].ShouldBe("'none'");
        content["script-src"].ShouldNotContain("unsafe");
        if (!path.StartsWith("/api-docs", StringComparison.Ordinal))
        {
            content["script-src"].ShouldBe("'self'");
            content["style-src"].ShouldBe("'self'");
        }
    }

    [Fact]
    public async Task Pages_hold_no_script_or_style_of_their_own()
    {
        var id = await clinic.Surgeon.OpenWithLayerAsync();
        foreach (var path in new[] { "/", "/cases", "/cases/new", $"/cases/{id}", $"/cases/{id}/record", $"/cases/{id}/stages/1/mark" })
        {
            var page = (await clinic.Surgeon.GetAsync(path)).Expect(200);
            page.MediaType.ShouldBe("text/html");
            InlineScript().Matches(page.Body).Select(match => match.Value).ShouldBeEmpty(path);
            InlineStyle().Matches(page.Body).Select(match => match.Value).ShouldBeEmpty(path);
        }
    }

    [Fact]
    public async Task The_page_that_tries_the_api_names_its_script_by_a_nonce_that_changes()
    {
        var nonces = new HashSet<string>();
        for (var i = 0; i < 3; i++)
        {
            var page = (await clinic.Stranger.GetAsync("/api-docs/")).Expect(200);
            var nonce = Nonce().Match(Content(page)["script-src"]).Groups[1].Value;
            nonce.Length.ShouldBeGreaterThan(15);
            nonces.Add(nonce).ShouldBeTrue();
            foreach (Match script in InlineScript().Matches(page.Body))
            {
                script.Value.ShouldContain($"nonce=\"{nonce}\"");
            }
        }
    }

    [Fact]
    public async Task A_picture_is_asked_for_again_by_its_tag_and_kept_by_nobody_else()
    {
        var id = await clinic.Surgeon.OpenWithLayerAsync();
        var picture = (await clinic.Surgeon.GetAsync($"/api/cases/{id}/map.svg")).Expect(200);
        picture.Header("Cache-Control")!.ShouldContain("private");
        (await clinic.Surgeon.GetAsync($"/api/cases/{id}/map.svg", ("If-None-Match", picture.Header("ETag")!))).Status.ShouldBe(304);
    }

    [Fact]
    public async Task A_body_over_the_limit_is_refused()
    {
        // Asked for before it is sent, lest the refusal end the connection while the client still writes.
        (await clinic.Surgeon.PostTextAsync("/api/cases", $$"""{ "patientRef": "{{new string('x', 1024 * 1024)}}" }""", ("Expect", "100-continue"))).ExpectProblem(413);
    }

    [Fact]
    public async Task A_body_that_trickles_in_is_cut_off()
    {
        using var client = new TcpClient();
        await client.ConnectAsync(clinic.Host.Address.Host, clinic.Host.Address.Port, TestContext.Current.CancellationToken);
        await using var stream = client.GetStream();
        await stream.WriteAsync(
            Encoding.ASCII.GetBytes(string.Create(CultureInfo.InvariantCulture, $"POST /api/auth/login HTTP/1.1\r\nHost: {clinic.Host.Address.Authority}\r\nContent-Type: application/json\r\nContent-Length: 5000\r\n\r\n{{")),
            TestContext.Current.CancellationToken);
        var answer = ReadAsync(stream);
        while (!answer.IsCompleted)
        {
            await Task.Delay(500, TestContext.Current.CancellationToken);
            try
            {
                await stream.WriteAsync(" "u8.ToArray(), TestContext.Current.CancellationToken);
            }
            catch (IOException)
            {
                break;
            }
        }

        (await answer.WaitAsync(TimeSpan.FromSeconds(20), TestContext.Current.CancellationToken)).ShouldStartWith("HTTP/1.1 408");
    }

    private static async Task<string> ReadAsync(NetworkStream stream)
    {
        var buffer = new byte[512];
        return Encoding.ASCII.GetString(buffer, 0, await stream.ReadAsync(buffer));
    }

    private static Dictionary<string, string> Content(Reply reply) => reply.Header("Content-Security-Policy")!.Split(';', StringSplitOptions.TrimEntries)
        .ToDictionary(part => part.Split(' ')[0], part => part[(part.IndexOf(' ', StringComparison.Ordinal) + 1)..]);

    [GeneratedRegex("<script(?![^>]*\\bsrc=)[^>]*>|\\son[a-z]+=\"")]
    private static partial Regex InlineScript();

    [GeneratedRegex("<style|\\sstyle=\"")]
    private static partial Regex InlineStyle();

    [GeneratedRegex("'nonce-([^']+)'")]
    private static partial Regex Nonce();
}

/// <summary>Each has a service of its own, for its settings.</summary>
public sealed class HygieneSettingTests(PostgresServer server)
{
    [Fact]
    public async Task Behind_a_known_proxy_that_speaks_tls_the_browser_is_told_to_stay_with_it()
    {
        await using var database = await server.Templates.MigratedAsync(Engine.Sqlite);
        await using var host = ServiceHost.Start(database, null, ("Proxy:KnownNetworks", "127.0.0.0/8, ::1/128"));
        (await AskAsync(host, "https")).Header("Strict-Transport-Security")!.ShouldContain("max-age=");
        (await AskAsync(host, "http")).Header("Strict-Transport-Security").ShouldBeNull();
    }

    [Fact]
    public async Task A_stranger_is_not_believed_about_the_scheme()
    {
        await using var database = await server.Templates.MigratedAsync(Engine.Sqlite);
        await using var host = ServiceHost.Start(database);
        (await AskAsync(host, "https")).Header("Strict-Transport-Security").ShouldBeNull();
    }

    [Theory]
    [InlineData("Proxy:KnownProxies", "nonsense")]
    [InlineData("Proxy:KnownNetworks", "10.0.0.0/99")]
    [InlineData("Limits:RequestSeconds", "0")]
    [InlineData("Oidc:Authority", "http://provider.invalid")]
    [InlineData("Oidc:Authority", "https://provider.invalid")]
    public async Task A_wrong_setting_stops_the_start_with_a_line_that_names_it(string key, string value)
    {
        await using var database = await TestDatabase.EmptyAsync(Engine.Sqlite, server);
        await using var program = new Installation(database.Settings);
        var result = await program.FailToStartAsync($"--{key}={value}");
        result.Code.ShouldBe(1);
        (result.Output + result.Errors).Trim().Split('\n').ShouldHaveSingleItem().ShouldContain(key);
    }

    [Fact]
    public async Task A_request_that_takes_too_long_is_ended_with_an_answer()
    {
        await using var database = await server.Templates.MigratedAsync(Engine.Postgres);
        await using var host = ServiceHost.Start(database, null, ("Limits:RequestSeconds", "2"));
        var administrator = await TestClinic.FoundAsync(host, "a@clinic.invalid", "Clinic of patience");
        await using var connection = await database.OpenAsync();
        await using var transaction = await connection.BeginTransactionAsync(TestContext.Current.CancellationToken);
        await using (var command = connection.CreateCommand())
        {
            command.Transaction = transaction;
            command.CommandText = "LOCK TABLE clinics IN ACCESS EXCLUSIVE MODE";
            await command.ExecuteNonQueryAsync(TestContext.Current.CancellationToken);
        }

        // The lock is held until the answer is there, so it is the limit that ends the wait.
        (await administrator.GetAsync("/api/clinic")).ExpectProblem(504);
    }

    private static Task<Reply> AskAsync(ServiceHost host, string scheme) =>
        host.Stranger().GetAsync("/health/live", ("X-Forwarded-Proto", scheme), ("X-Forwarded-For", "203.0.113.7"), ("Host", "margins.invalid"));
}
