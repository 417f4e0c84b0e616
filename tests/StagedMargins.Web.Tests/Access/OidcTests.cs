using System.Text.Json.Nodes;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Access;

/// <summary>Signing in by an organisation's provider. Who is found in the record is found as in any sign-in, so one database is enough.</summary>
public sealed class OidcTests(PostgresServer server) : IAsyncLifetime
{
    private const string Administrator = "a@clinic.invalid";
    private const string Email = "s@clinic.invalid";

    private TestDatabase database = null!;
    private OidcProvider provider = null!;
    private ServiceHost host = null!;
    private Caller administrator = null!;

    public async ValueTask InitializeAsync()
    {
        database = await server.Templates.MigratedAsync(Engine.Sqlite);
        provider = await OidcProvider.StartAsync();
        host = ServiceHost.Start(database, null, ("Oidc:Authority", provider.Authority), ("Oidc:ClientId", OidcProvider.ClientId), ("Oidc:ClientSecret", OidcProvider.ClientSecret));
        administrator = await TestClinic.FoundAsync(host, Administrator, "Clinic of a provider");
        await TestClinic.AddAsync(administrator, host.Stranger(), Email, "surgeon");
    }

    public async ValueTask DisposeAsync()
    {
        await host.DisposeAsync();
        await provider.DisposeAsync();
        await database.DisposeAsync();
        GC.SuppressFinalize(this);
    }

    [Fact]
    public async Task A_known_person_with_a_verified_address_gets_the_token_that_a_password_gives()
    {
        provider.Person = ("subject-1", Email.ToUpperInvariant(), true);
        using var browser = new Browser(host.Address);
        var reply = (await WalkAsync(browser, "/api/auth/oidc/start")).Expect(200);
        reply.Json.Fields().ShouldBe(["tokenType", "accessToken", "expiresIn", "refreshToken"]);
        (await host.Stranger().With(reply.Text("accessToken")).GetAsync("/api/auth/me")).Expect(200).Text("email").ShouldBe(Email);
        browser.Cookies.ShouldNotContain("stagedmargins.oidc");
    }

    [Fact]
    public async Task On_the_pages_the_cookie_comes_of_it()
    {
        provider.Person = ("subject-1", Email, true);
        using var browser = new Browser(host.Address);
        var reply = await WalkAsync(browser, "/api/auth/oidc/start?pages=true");
        (reply.Status, reply.Header("Location")).ShouldBe((302, "/"));
        (await browser.GetAsync("/api/auth/me")).Expect(200).Text("email").ShouldBe(Email);
        browser.SetCookies.Single(set => set.StartsWith("stagedmargins.who=", StringComparison.Ordinal)).ToUpperInvariant().ShouldContain("SAMESITE=LAX");
    }

    [Theory]
    [InlineData(Email, false)]
    [InlineData(Email, null)]
    [InlineData("stranger@clinic.invalid", true)]
    [InlineData(null, true)]
    public async Task Nobody_else_gets_in_and_nobody_is_added(string? email, bool? verified)
    {
        provider.Person = ("subject-1", email, verified);
        using var browser = new Browser(host.Address);
        (await WalkAsync(browser, "/api/auth/oidc/start")).ExpectProblem(401).Text("type").ShouldBe("urn:stagedmargins:problem:notKnown");
        (await administrator.GetAsync("/api/people")).Expect(200).Json.AsArray().Count.ShouldBe(2);
    }

    [Fact]
    public async Task An_address_that_passed_to_another_subject_opens_nothing_until_the_administrator_unties_it()
    {
        provider.Person = ("subject-1", Email, true);
        (await WalkAsync("/api/auth/oidc/start")).Expect(200);
        provider.Person = ("subject-2", Email, true);
        (await WalkAsync("/api/auth/oidc/start")).ExpectProblem(401).Text("type").ShouldBe("urn:stagedmargins:problem:notKnown");
        (await administrator.PostAsync($"/api/people/{await administrator.PersonIdAsync(Email)}/second-factor/reset", null)).Expect(200);
        (await WalkAsync("/api/auth/oidc/start")).Expect(200);
    }

    [Fact]
    public async Task A_closed_account_stays_closed()
    {
        provider.Person = ("subject-1", Email, true);
        (await administrator.PostAsync($"/api/people/{await administrator.PersonIdAsync(Email)}/disable", null)).Expect(200);
        (await WalkAsync("/api/auth/oidc/start")).ExpectProblem(401);
    }

    [Fact]
    public async Task A_token_signed_by_someone_else_is_refused()
    {
        provider.Person = ("subject-1", Email, true);
        provider.Forges = true;
        (await WalkAsync("/api/auth/oidc/start")).ExpectProblem(401).Text("type").ShouldBe("urn:stagedmargins:problem:oidcFailed");
    }

    [Fact]
    public async Task An_answer_that_was_never_asked_for_is_refused()
    {
        using var browser = new Browser(host.Address);
        (await browser.GetAsync("/api/auth/oidc/finish")).ExpectProblem(401);
        (await browser.GetAsync("/api/auth/oidc/callback?code=x&state=y")).ExpectProblem(401);
    }

    [Fact]
    public async Task Ones_own_second_factor_is_asked_for_all_the_same()
    {
        var own = await host.Stranger().SignInAsync(Email, TestClinic.Password);
        var key = (await own.PostAsync("/api/auth/two-factor/start", new JsonObject { ["password"] = TestClinic.Password })).Expect(200).Text("sharedKey");
        var now = TestClock.Now.ToUnixTimeSeconds() / 30;
        var bytes = Convert.FromHexString(string.Concat(string.Concat(key.Select(c => Convert.ToString("ABCDEFGHIJKLMNOPQRSTUVWXYZ234567".IndexOf(c, StringComparison.Ordinal), 2).PadLeft(5, '0'))).Chunk(4).Select(four => Convert.ToInt32(new string(four), 2).ToString("X", System.Globalization.CultureInfo.InvariantCulture))));
        var codes = (await own.PostAsync("/api/auth/two-factor/confirm", new JsonObject { ["code"] = StagedMargins.Web.Identity.TotpCodes.CodeAt(bytes, now) })).Expect(200).At("recoveryCodes")!.AsArray();
        provider.Person = ("subject-1", Email, true);
        using var browser = new Browser(host.Address);
        (await WalkAsync(browser, "/api/auth/oidc/start")).ExpectProblem(401).Text("type").ShouldBe("urn:stagedmargins:problem:twoFactorRequired");
        (await browser.PostAsync("/api/auth/oidc/finish", new JsonObject { ["recoveryCode"] = "AAAAA-AAAAA" })).ExpectProblem(401).Text("type").ShouldBe("urn:stagedmargins:problem:twoFactorWrong");
        (await browser.PostAsync("/api/auth/oidc/finish", new JsonObject { ["recoveryCode"] = codes[0]!.GetValue<string>() })).Expect(200).Json.Fields().ShouldContain("accessToken");
    }

    private async Task<Reply> WalkAsync(string start)
    {
        using var browser = new Browser(host.Address);
        return await WalkAsync(browser, start);
    }

    // Follows redirects as a browser does, to the provider and back, until an answer of ours is none or leads to a page.
    private static async Task<Reply> WalkAsync(Browser browser, string path)
    {
        for (var step = 0; ; step++)
        {
            step.ShouldBeLessThan(6);
            var reply = await browser.GetAsync(path);
            if (reply.Status != 302 || reply.Header("Location") == "/")
            {
                return reply;
            }

            path = reply.Header("Location")!;
        }
    }
}

[Collection<OnSqlite>]
public sealed class WithoutOidcTests(SqliteClinic clinic)
{
    [Fact]
    public async Task Without_a_provider_there_is_no_way_in_by_one()
    {
        (await clinic.Stranger.GetAsync("/api/auth/oidc/start")).ExpectProblem(404);
        (await clinic.Stranger.GetAsync("/api/auth/oidc/finish")).ExpectProblem(401);
    }
}
