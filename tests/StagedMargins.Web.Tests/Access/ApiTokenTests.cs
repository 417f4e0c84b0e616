using System.Text.Json.Nodes;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Access;

public abstract class ApiTokenTests(TestClinic clinic)
{
    [Fact]
    public async Task Another_system_acts_under_its_own_name_within_its_roles()
    {
        var (system, _) = await MakeAsync("Bench terminal 3", "histotech");
        var id = await system.OpenWithLayerAsync();
        (await system.GetAsync("/api/people")).ExpectProblem(403);
        (await system.EndAsync(id, Some.EndCleared())).ExpectProblem(403);
        var history = (await clinic.Surgeon.GetAsync($"/api/cases/{id}/history")).Expect(200);
        history.Text("entries[0].by").ShouldBe("Bench terminal 3");
        history.At("chain.intact").ShouldBeJson("true");
        (await clinic.Surgeon.CaseAsync(id)).Text("stages[0].recordedBy").ShouldBe("Bench terminal 3");
    }

    [Fact]
    public async Task A_system_names_the_reader_and_signs_nothing()
    {
        var (system, _) = await MakeAsync("Reading station", "surgeon");
        var id = await system.OpenWithLayerAsync();
        (await system.ReadAsync(id, 1, "A", Some.Clear().Without("readerEmail"))).ExpectProblem(400, "readerEmail");
        var reading = (await system.ReadAsync(id, 1, "A", Some.Clear())).Expect(201);
        reading.At("countersignedBy").ShouldBeNull();
        (await system.PostAsync($"/api/cases/{id}/readings/{reading.Text("id")}/countersign", null)).ExpectProblem(409);
        (await system.ReadAsync(id, 1, "B", Some.Clear())).Expect(201);
        (await system.EndAsync(id, Some.EndCleared())).ExpectProblem(409);
    }

    [Fact]
    public async Task A_token_is_shown_once_kept_as_a_hash_and_ends_at_once_when_revoked()
    {
        var (system, made) = await MakeAsync("Scheduling", "surgeon");
        var secret = system.Token!;
        secret.ShouldMatch("^smt_[0-9a-f]{64}$");
        (await system.GetAsync("/api/cases")).Expect(200);
        var listed = (await clinic.Administrator.GetAsync("/api/tokens")).Expect(200);
        listed.Body.ShouldNotContain(secret);
        listed.Json.AsArray().Single(token => token!["id"]!.GetValue<string>() == made.Text("apiToken.id"))!["lastUsedAt"].ShouldNotBeNull();
        (await clinic.Database.QueryAsync<string>("SELECT hash FROM api_tokens")).ShouldNotContain(secret);
        (await clinic.Database.QueryAsync<string>("SELECT hash FROM api_tokens"))
            .ShouldContain(Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(System.Text.Encoding.ASCII.GetBytes(secret))));
        (await clinic.Administrator.PostAsync($"/api/tokens/{made.Text("apiToken.id")}/revoke", null)).Expect(200).At("revokedAt").ShouldNotBeNull();
        (await system.GetAsync("/api/cases")).ExpectProblem(401);
    }

    [Fact]
    public async Task A_token_has_no_account_and_makes_no_tokens()
    {
        var (system, _) = await MakeAsync("Everything", "histotech", "surgeon", "manager", "administrator");
        (await system.GetAsync("/api/people")).Expect(200);
        foreach (var (method, path) in new[] { ("GET", "/api/auth/me"), ("POST", "/api/auth/logout"), ("POST", "/api/auth/password"), ("POST", "/api/auth/two-factor/start"), ("GET", "/api/auth/passkeys"), ("GET", "/api/tokens"), ("POST", "/api/tokens") })
        {
            (method == "GET" ? await system.GetAsync(path) : await system.PostAsync(path, new JsonObject())).ExpectProblem(403);
        }
    }

    [Theory]
    [InlineData("smt_")]
    [InlineData("smt_0000000000000000000000000000000000000000000000000000000000000000")]
    [InlineData("smt_' OR 1=1 --")]
    public async Task A_made_up_token_opens_nothing(string token) => (await clinic.Stranger.With(token).GetAsync("/api/cases")).ExpectProblem(401);

    [Fact]
    public async Task A_token_needs_a_name_roles_that_exist_and_an_end_that_is_to_come()
    {
        (await PostAsync(new JsonObject())).ExpectProblem(400, "name").ExpectProblem(400, "roles");
        (await PostAsync(Body("x", "owner"))).ExpectProblem(400, "roles");
        (await PostAsync(Body("x", "surgeon").With("expiresAt", "2020-01-01T00:00:00Z"))).ExpectProblem(400, "expiresAt");
        (await PostAsync(Body(new string('x', 101), "surgeon"))).ExpectProblem(400, "name");
    }

    [Fact]
    public async Task A_token_ends_by_itself_when_its_time_is_over()
    {
        var clock = new SetClock(TestClock.Now);
        await using var host = ServiceHost.Start(clinic.Database, clock);
        var administrator = host.Stranger().With(clinic.Administrator.Token);
        var end = clock.GetUtcNow().AddHours(1);
        var made = (await administrator.PostAsync("/api/tokens", Body("For an hour", "surgeon").With("expiresAt", end.ToString("O")))).Expect(201);
        var system = host.Stranger().With(made.Text("token"));
        clock.Advance(TimeSpan.FromMinutes(59));
        (await system.GetAsync("/api/cases")).Expect(200);
        clock.Advance(TimeSpan.FromMinutes(1));
        (await system.GetAsync("/api/cases")).ExpectProblem(401);
    }

    private static JsonObject Body(string name, params string[] roles) =>
        new() { ["name"] = name, ["roles"] = new JsonArray([.. roles.Select(role => JsonValue.Create(role))]) };

    private Task<Reply> PostAsync(JsonObject body) => clinic.Administrator.PostAsync("/api/tokens", body);

    private async Task<(Caller System, Reply Made)> MakeAsync(string name, params string[] roles)
    {
        var made = (await PostAsync(Body(name, roles))).Expect(201);
        return (clinic.Stranger.With(made.Text("token")), made);
    }
}

[Collection<OnSqlite>]
public sealed class ApiTokenTestsOnSqlite(SqliteClinic clinic) : ApiTokenTests(clinic);

[Collection<OnPostgres>]
public sealed class ApiTokenTestsOnPostgres(PostgresClinic clinic) : ApiTokenTests(clinic);
