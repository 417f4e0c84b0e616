using System.Text.Json.Nodes;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Access;

public abstract class ForgeryTests(TestClinic clinic)
{
    [Fact]
    public async Task A_change_under_the_cookie_needs_the_token_of_our_own_pages()
    {
        using var browser = await SignedInAsync();
        (await browser.GetAsync("/api/cases")).Expect(200);
        var before = await clinic.Database.WrittenAsync();
        (await browser.PostAsync("/api/cases", Some.Case())).ExpectProblem(403).Text("type").ShouldBe("urn:stagedmargins:problem:requestToken");
        (await browser.PostAsync("/api/cases", Some.Case(), ("RequestVerificationToken", "made up"))).ExpectProblem(403);
        (await clinic.Database.WrittenAsync()).ShouldBe(before);
        var token = (await browser.GetAsync("/api/auth/antiforgery")).Expect(200);
        (await browser.PostAsync("/api/cases", Some.Case(), (token.Text("headerName"), token.Text("token")))).Expect(201);
    }

    [Fact]
    public async Task The_token_of_someone_else_does_not_do()
    {
        using var browser = await SignedInAsync();
        using var other = new Browser(clinic.Host.Address);
        var token = (await other.GetAsync("/api/auth/antiforgery")).Expect(200);
        (await browser.PostAsync("/api/cases", Some.Case(), (token.Text("headerName"), token.Text("token")))).ExpectProblem(403);
    }

    [Fact]
    public async Task A_bearer_token_needs_no_other() => (await clinic.Surgeon.PostAsync("/api/cases", Some.Case())).Expect(201);

    [Fact]
    public async Task The_cookie_is_out_of_reach_of_scripts_other_sites_and_plain_connections()
    {
        using var browser = await SignedInAsync();
        var set = browser.SetCookies.Single(cookie => cookie.StartsWith("stagedmargins.who=", StringComparison.Ordinal)).ToUpperInvariant();
        set.ShouldContain("HTTPONLY");
        set.ShouldContain("SECURE");
        set.ShouldContain("SAMESITE=STRICT");
    }

    [Fact]
    public async Task Signing_out_takes_the_cookie_away()
    {
        using var browser = await SignedInAsync();
        var token = (await browser.GetAsync("/api/auth/antiforgery")).Expect(200);
        (await browser.PostAsync("/api/auth/logout", new JsonObject(), (token.Text("headerName"), token.Text("token")))).Expect(204);
        browser.Cookies.ShouldNotContain("stagedmargins.who");
        (await browser.GetAsync("/api/cases")).ExpectProblem(401);
    }

    private async Task<Browser> SignedInAsync()
    {
        var email = $"c{Guid.NewGuid():N}@clinic.invalid";
        await clinic.AddAsync(email, "surgeon");
        var browser = new Browser(clinic.Host.Address);
        (await browser.PostAsync("/api/auth/login?pages=true", new JsonObject { ["email"] = email, ["password"] = TestClinic.Password })).Expect(204).Body.ShouldBeEmpty();
        return browser;
    }
}

[Collection<OnSqlite>]
public sealed class ForgeryTestsOnSqlite(SqliteClinic clinic) : ForgeryTests(clinic);

[Collection<OnPostgres>]
public sealed class ForgeryTestsOnPostgres(PostgresClinic clinic) : ForgeryTests(clinic);
