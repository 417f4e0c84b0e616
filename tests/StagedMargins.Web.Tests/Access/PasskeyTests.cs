using System.Text.Json.Nodes;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Access;

/// <summary>Passkeys with an authenticator in software. What a real browser and device do with the options is not seen here.</summary>
public abstract class PasskeyTests(TestClinic clinic)
{
    private string Origin => clinic.Host.Address.GetLeftPart(UriPartial.Authority);

    [Fact]
    public async Task A_passkey_signs_in_alone_even_where_a_second_factor_would_be_asked_for()
    {
        using var device = Device();
        var (_, browser, _) = await RegisteredAsync(device);
        using (browser)
        {
            var reply = (await SignInAsync(device)).Expect(200);
            reply.Json.Fields().ShouldBe(["tokenType", "accessToken", "expiresIn", "refreshToken"]);
            var own = clinic.Stranger.With(reply.Text("accessToken"));
            (await own.GetAsync("/api/cases")).Expect(200);
            (await own.GetAsync("/api/auth/passkeys")).Expect(200).Json.AsArray().ShouldHaveSingleItem()!["name"]!.GetValue<string>().ShouldBe("The phone of the tests");
            (await own.GetAsync("/api/auth/me")).Expect(200).Number("passkeys").ShouldBe(1);
        }
    }

    [Fact]
    public async Task An_answer_for_another_site_another_challenge_or_without_the_user_is_refused()
    {
        using var device = Device();
        var (_, browser, _) = await RegisteredAsync(device);
        using (browser)
        {
            using var elsewhere = new SoftAuthenticator("https://elsewhere.invalid", clinic.Host.Address.Host);
            (await SignInAsync(elsewhere)).ExpectProblem(401).Text("type").ShouldBe("urn:stagedmargins:problem:passkeyNotRight");
            using var asked = new Browser(clinic.Host.Address);
            var options = (await PostAsync(asked, "/api/auth/passkeys/sign-in-options", new JsonObject())).Expect(200).Json;
            options["challenge"] = "AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA";
            (await PostAsync(asked, "/api/auth/passkeys/sign-in", new JsonObject { ["credential"] = device.Get(options) })).ExpectProblem(401);
            using var unasked = new Browser(clinic.Host.Address);
            (await PostAsync(unasked, "/api/auth/passkeys/sign-in", new JsonObject { ["credential"] = device.Get(options) })).Status.ShouldBeOneOf(400, 401);
            (await SignInAsync(device)).Expect(200);
        }
    }

    [Fact]
    public async Task A_device_that_does_not_check_its_user_is_refused()
    {
        using var careless = new SoftAuthenticator(Origin, clinic.Host.Address.Host) { Verifies = false };
        var email = $"k{Guid.NewGuid():N}@clinic.invalid";
        await clinic.AddAsync(email, "surgeon");
        using var browser = await SignedInAsync(email);
        (await RegisterAsync(browser, careless)).ExpectProblem(400, "credential");
    }

    [Fact]
    public async Task A_passkey_ends_with_the_account_with_its_removal_and_by_the_administrator()
    {
        using var first = Device();
        using var second = Device();
        var (email, browser, _) = await RegisteredAsync(first);
        using (browser)
        {
            (await SignInAsync(first)).Expect(200);
            var id = await clinic.PersonIdAsync(email);
            (await clinic.Administrator.PostAsync($"/api/people/{id}/disable", null)).Expect(200);
            (await SignInAsync(first)).ExpectProblem(401);
            (await clinic.Administrator.PostAsync($"/api/people/{id}/enable", null)).Expect(200);
            (await SignInAsync(first)).Expect(200);
            (await clinic.Administrator.PostAsync($"/api/people/{id}/second-factor/reset", null)).Expect(200);
            (await SignInAsync(first)).ExpectProblem(401);
        }

        var (_, owner, passkey) = await RegisteredAsync(second);
        using (owner)
        {
            (await PostAsync(owner, $"/api/auth/passkeys/{passkey}/remove", new JsonObject())).Expect(204);
            (await PostAsync(owner, $"/api/auth/passkeys/{passkey}/remove", new JsonObject())).ExpectProblem(404);
            (await SignInAsync(second)).ExpectProblem(401);
        }
    }

    [Fact]
    public async Task Another_person_does_not_remove_it()
    {
        using var first = Device();
        using var second = Device();
        var (_, browser, passkey) = await RegisteredAsync(first);
        var (_, other, _) = await RegisteredAsync(second);
        using (browser)
        using (other)
        {
            (await PostAsync(other, $"/api/auth/passkeys/{passkey}/remove", new JsonObject())).ExpectProblem(404);
            (await SignInAsync(first)).Expect(200);
        }
    }

    [Fact]
    public async Task Making_one_wants_the_password()
    {
        var email = $"k{Guid.NewGuid():N}@clinic.invalid";
        var own = await clinic.AddAsync(email, "surgeon");
        (await own.PostAsync("/api/auth/passkeys/registration-options", new JsonObject { ["password"] = "not the pass phrase" })).ExpectProblem(400, "password");
        (await own.PostAsync("/api/auth/passkeys", new JsonObject { ["name"] = "x", ["credential"] = new JsonObject() })).ExpectProblem(400, "credential");
        (await own.PostAsync("/api/auth/passkeys", new JsonObject { ["name"] = "x" })).ExpectProblem(400, "credential");
    }

    private SoftAuthenticator Device() => new(Origin, clinic.Host.Address.Host);

    private async Task<Reply> PostAsync(Browser browser, string path, JsonNode body)
    {
        var token = (await browser.GetAsync("/api/auth/antiforgery")).Expect(200);
        return await browser.PostAsync(path, body, ("Origin", Origin), (token.Text("headerName"), token.Text("token")));
    }

    private async Task<Browser> SignedInAsync(string email)
    {
        var browser = new Browser(clinic.Host.Address);
        (await browser.PostAsync("/api/auth/login?pages=true", new JsonObject { ["email"] = email, ["password"] = TestClinic.Password })).Expect(204);
        return browser;
    }

    private async Task<(string Email, Browser Browser, string PasskeyId)> RegisteredAsync(SoftAuthenticator device)
    {
        var email = $"k{Guid.NewGuid():N}@clinic.invalid";
        await clinic.AddAsync(email, "surgeon");
        var browser = await SignedInAsync(email);
        return (email, browser, (await RegisterAsync(browser, device)).Expect(201).Text("id"));
    }

    private async Task<Reply> RegisterAsync(Browser browser, SoftAuthenticator device)
    {
        var options = (await PostAsync(browser, "/api/auth/passkeys/registration-options", new JsonObject { ["password"] = TestClinic.Password })).Expect(200).Json;
        options.At("authenticatorSelection.userVerification").ShouldBeJson("\"required\"");
        return await PostAsync(browser, "/api/auth/passkeys", new JsonObject { ["name"] = "The phone of the tests", ["credential"] = device.Create(options) });
    }

    private async Task<Reply> SignInAsync(SoftAuthenticator device)
    {
        using var browser = new Browser(clinic.Host.Address);
        var options = (await PostAsync(browser, "/api/auth/passkeys/sign-in-options", new JsonObject())).Expect(200).Json;
        return await PostAsync(browser, "/api/auth/passkeys/sign-in", new JsonObject { ["credential"] = device.Get(options) });
    }
}

[Collection<OnSqlite>]
public sealed class PasskeyTestsOnSqlite(SqliteClinic clinic) : PasskeyTests(clinic);

[Collection<OnPostgres>]
public sealed class PasskeyTestsOnPostgres(PostgresClinic clinic) : PasskeyTests(clinic);
