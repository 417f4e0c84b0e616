using System.Text.Json.Nodes;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Access;

public abstract class SessionTests(TestClinic clinic)
{
    private const string OtherPassword = "quite another long phrase";

    /// <summary>What ends every sign-in of a person, and whether they can sign in again with the password they had.</summary>
    private static readonly Dictionary<string, (Func<TestClinic, Caller, string, Task<Reply>> Act, bool StillSignsIn)> Ends = new()
    {
        ["signing out"] = ((_, who, _) => who.PostAsync("/api/auth/logout", new JsonObject()), true),
        ["a new password"] = ((_, who, _) => who.PostAsync("/api/auth/password", new JsonObject { ["password"] = TestClinic.Password, ["newPassword"] = OtherPassword }), false),
        ["a closed account"] = ((at, _, id) => at.Administrator.PostAsync($"/api/people/{id}/disable", null), false),
        ["other roles"] = ((at, _, id) => at.Administrator.PostAsync($"/api/people/{id}/roles", new JsonObject { ["roles"] = new JsonArray("histotech") }), true),
        ["a password taken away"] = ((at, _, id) => at.Administrator.PostAsync($"/api/people/{id}/password-code", null), false),
        ["a second factor taken away"] = ((at, _, id) => at.Administrator.PostAsync($"/api/people/{id}/second-factor/reset", null), true),
    };

    public static TheoryData<string> Ways => [.. Ends.Keys];

    [Theory]
    [MemberData(nameof(Ways))]
    public async Task Every_sign_in_of_a_person_ends_at_once_by(string way)
    {
        var email = $"e{Guid.NewGuid():N}@clinic.invalid";
        var first = await clinic.AddAsync(email, "surgeon");
        var login = (await LoginAsync(email, TestClinic.Password)).Expect(200);
        var second = first.With(login.Text("accessToken"));
        using var browser = new Browser(clinic.Host.Address);
        (await browser.PostAsync("/api/auth/login?pages=true", new JsonObject { ["email"] = email, ["password"] = TestClinic.Password })).Expect(204);
        (await browser.GetAsync("/api/cases")).Expect(200);
        (await first.GetAsync("/api/cases")).Expect(200);
        var id = await clinic.PersonIdAsync(email);

        (await Ends[way].Act(clinic, second, id)).Status.ShouldBeInRange(200, 204);

        (await first.GetAsync("/api/cases")).ExpectProblem(401);
        (await second.GetAsync("/api/cases")).ExpectProblem(401);
        (await browser.GetAsync("/api/cases")).ExpectProblem(401);
        (await clinic.Stranger.PostAsync("/api/auth/refresh", new JsonObject { ["refreshToken"] = login.Text("refreshToken") })).ExpectProblem(401);
        (await LoginAsync(email, TestClinic.Password)).Status.ShouldBe(Ends[way].StillSignsIn ? 200 : 401);
        (await clinic.Surgeon.GetAsync("/api/cases")).Expect(200);
    }

    [Fact]
    public async Task A_sign_in_holds_no_more_than_the_roles_of_the_moment()
    {
        var email = $"e{Guid.NewGuid():N}@clinic.invalid";
        var manager = await clinic.AddAsync(email, "manager");
        var id = await clinic.PersonIdAsync(email);
        (await clinic.Administrator.PostAsync($"/api/people/{id}/roles", new JsonObject { ["roles"] = new JsonArray("surgeon") })).Expect(200);
        (await manager.GetAsync("/api/cases")).ExpectProblem(401);
        var surgeon = await clinic.Stranger.SignInAsync(email, TestClinic.Password);
        (await surgeon.GetAsync("/api/cases")).Expect(200);
        (await surgeon.GetAsync("/api/people")).ExpectProblem(403);
    }

    [Fact]
    public async Task The_events_of_an_open_screen_end_with_the_sign_in()
    {
        var email = $"e{Guid.NewGuid():N}@clinic.invalid";
        var person = await clinic.AddAsync(email, "surgeon");
        using var http = new HttpClient { BaseAddress = clinic.Host.Address };
        using var request = new HttpRequestMessage(HttpMethod.Get, "/api/events");
        request.Headers.Authorization = new("Bearer", person.Token);
        using var response = await http.SendAsync(request, HttpCompletionOption.ResponseHeadersRead, TestContext.Current.CancellationToken);
        using var stream = new StreamReader(await response.Content.ReadAsStreamAsync(TestContext.Current.CancellationToken));
        (await stream.ReadLineAsync(TestContext.Current.CancellationToken)).ShouldBe("event: listening");

        (await person.PostAsync("/api/auth/logout", new JsonObject())).Expect(204);
        await clinic.Surgeon.OpenCaseAsync();
        var rest = await stream.ReadToEndAsync(TestContext.Current.CancellationToken).WaitAsync(TimeSpan.FromSeconds(10), TestContext.Current.CancellationToken);
        rest.ShouldNotContain("changed");
    }

    private Task<Reply> LoginAsync(string email, string password) =>
        clinic.Stranger.PostAsync("/api/auth/login", new JsonObject { ["email"] = email, ["password"] = password });
}

[Collection<OnSqlite>]
public sealed class SessionTestsOnSqlite(SqliteClinic clinic) : SessionTests(clinic);

[Collection<OnPostgres>]
public sealed class SessionTestsOnPostgres(PostgresClinic clinic) : SessionTests(clinic);
