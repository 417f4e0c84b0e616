using System.Text.Json.Nodes;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Features.SignIn;

public abstract class SignInTests(TestClinic clinic)
{
    private Caller Stranger => clinic.Stranger;

    [Fact]
    public async Task Signing_in_gives_a_bearer_token_that_works()
    {
        var reply = await LoginAsync(TestClinic.SurgeonEmail, TestClinic.Password);
        reply.Expect(200).Json.Fields().ShouldBe(["tokenType", "accessToken", "expiresIn", "refreshToken"]);
        reply.Text("tokenType").ShouldBe("Bearer");
        reply.Number("expiresIn").ShouldBeGreaterThan(0);
        (await Stranger.With(reply.Text("accessToken")).GetAsync("/api/cases")).Expect(200);
        (await Stranger.With(reply.Text("refreshToken")).GetAsync("/api/cases")).ExpectProblem(401);
    }

    [Fact]
    public async Task The_address_is_found_whatever_the_case_of_its_letters() =>
        (await LoginAsync($" {TestClinic.SurgeonEmail.ToUpperInvariant()} ", TestClinic.Password)).Expect(200);

    [Fact]
    public async Task A_wrong_password_and_an_unknown_address_are_answered_alike_to_the_end()
    {
        var (known, unknown) = (NewEmail(), NewEmail());
        await clinic.AddAsync(known, "manager");
        for (var attempt = 1; attempt <= 14; attempt++)
        {
            var wrong = await LoginAsync(known, "not the pass phrase");
            var nobody = await LoginAsync(unknown, "not the pass phrase");
            wrong.ExpectProblem(attempt <= 10 ? 401 : 429);
            nobody.ExpectProblem(attempt <= 10 ? 401 : 429);
            foreach (var field in new[] { "title", "detail" })
            {
                wrong.At(field).ShouldBeJson(nobody.At(field)!.ToJsonString());
            }
        }
    }

    [Fact]
    public async Task After_ten_failures_an_address_waits_even_with_the_right_password_while_others_sign_in()
    {
        var email = NewEmail();
        await clinic.AddAsync(email, "manager");
        for (var attempt = 1; attempt <= 10; attempt++)
        {
            (await LoginAsync(email, "not the pass phrase")).ExpectProblem(401);
        }

        (await LoginAsync(email, TestClinic.Password)).ExpectProblem(429);
        (await LoginAsync(email.ToUpperInvariant(), TestClinic.Password)).ExpectProblem(429);
        (await LoginAsync(TestClinic.SurgeonEmail, TestClinic.Password)).Expect(200);
    }

    [Fact]
    public async Task Nine_failures_do_not_keep_the_right_password_out()
    {
        var email = NewEmail();
        await clinic.AddAsync(email, "manager");
        for (var attempt = 1; attempt <= 9; attempt++)
        {
            (await LoginAsync(email, "not the pass phrase")).ExpectProblem(401);
        }

        (await LoginAsync(email, TestClinic.Password)).Expect(200);
    }

    [Fact]
    public async Task A_refresh_token_renews_the_sign_in()
    {
        var login = (await LoginAsync(TestClinic.HistotechEmail, TestClinic.Password)).Expect(200);
        var renewed = (await RefreshAsync(login.Text("refreshToken"))).Expect(200);
        renewed.Json.Fields().ShouldBe(["tokenType", "accessToken", "expiresIn", "refreshToken"]);
        (await Stranger.With(renewed.Text("accessToken")).GetAsync("/api/cases")).Expect(200);
    }

    [Theory]
    [InlineData("")]
    [InlineData("garbage")]
    [InlineData("Q2ZESjhBQUFBQUFBQUFBQUFBQUFBQUFBQUFBQQ")]
    public async Task A_made_up_refresh_token_renews_nothing(string token)
    {
        (await RefreshAsync(token)).ExpectProblem(401);
        (await Stranger.PostTextAsync("/api/auth/refresh", "{}")).ExpectProblem(401);
    }

    [Fact]
    public async Task An_access_token_is_no_refresh_token() => (await RefreshAsync(clinic.Surgeon.Token!)).ExpectProblem(401);

    [Theory]
    [InlineData("{}")]
    [InlineData("""{ "email": null, "password": null }""")]
    [InlineData("""{ "email": "", "password": "" }""")]
    [InlineData("""{ "email": "a\u0000b@clinic.invalid", "password": "x\u0000y" }""")]
    public async Task An_empty_or_odd_sign_in_is_refused(string body) => (await Stranger.PostTextAsync("/api/auth/login", body)).ExpectProblem(401);

    [Theory]
    [InlineData("""{ "email": "someone@clinic.invalid", "pasword": "x" }""", "pasword")]
    [InlineData("""{ "email": 7, "password": "x" }""", "email")]
    [InlineData("null", "body")]
    [InlineData("[]", "body")]
    public async Task A_malformed_sign_in_names_what_is_wrong(string body, string field) => (await Stranger.PostTextAsync("/api/auth/login", body)).ExpectProblem(400, field);

    private static string NewEmail() => $"p{Guid.NewGuid():N}@clinic.invalid";

    private Task<Reply> LoginAsync(string email, string password) =>
        Stranger.PostAsync("/api/auth/login", new JsonObject { ["email"] = email, ["password"] = password });

    private Task<Reply> RefreshAsync(string token) => Stranger.PostAsync("/api/auth/refresh", new JsonObject { ["refreshToken"] = token });
}

[Collection<OnSqlite>]
public sealed class SignInTestsOnSqlite(SqliteClinic clinic) : SignInTests(clinic);

[Collection<OnPostgres>]
public sealed class SignInTestsOnPostgres(PostgresClinic clinic) : SignInTests(clinic);
