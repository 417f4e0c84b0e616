using System.Text.Json.Nodes;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Access;

/// <summary>Runs the built program as it is shipped through a day's work and some mischief, and reads everything it said.</summary>
public abstract class LogTests(Engine engine, PostgresServer server)
{
    // Each text is sent somewhere and must be found nowhere.
    private static readonly string[] Places =
    [
        "patientRef", "detail", "twelve", "indication", "note", "reason", "plan", "caseNumber", "clinicName", "personName", "tokenName", "query", "path", "label", "key", "header", "field", "garbage", "oddEmail", "route",
    ];

    private readonly Dictionary<string, string> texts = Places.ToDictionary(place => place, place => $"qz{place[..3]}{Guid.NewGuid():N}"[..20]);

    [Fact]
    public async Task No_patient_data_free_text_address_or_secret_is_ever_logged()
    {
        await using var database = await TestDatabase.EmptyAsync(engine, server);
        using var home = new TempFolder();
        await using var service = ServiceProcess.Start(home.Path, database.Environment(), "--urls", "http://127.0.0.1:0");
        var secrets = await WorkAsync(service);
        await service.TerminateAsync();
        (await service.ExitCodeAsync()).ShouldBe(0);

        var said = service.Output + service.Errors;
        said.ShouldContain("HTTP POST /api/cases");
        said.ShouldContain("/stages/{n:int}/blocks/{label}/readings");
        said.ShouldContain("responded 404");
        said.ShouldContain("responded 400");
        said.ShouldContain("responded 409");
        texts.Values.Concat(secrets).Where(text => said.Contains(text, StringComparison.OrdinalIgnoreCase)).ShouldBeEmpty();
        said.Split('\n').Where(line => line.Contains('@', StringComparison.Ordinal) || line.Contains("Exception", StringComparison.Ordinal)).ShouldBeEmpty();
    }

    private async Task<List<string>> WorkAsync(ServiceProcess service)
    {
        var stranger = await service.StrangerAsync();
        var administrator = await service.FoundAsync("logs@clinic.invalid", texts["clinicName"]);
        var added = (await administrator.PostAsync("/api/people", Some.Person(TestClinic.SurgeonEmail, "surgeon").With("name", texts["personName"]))).Expect(201);
        await stranger.SetPasswordAsync(TestClinic.SurgeonEmail, added.Text("code"));
        var surgeon = await stranger.SignInAsync(TestClinic.SurgeonEmail, TestClinic.Password);
        var made = (await administrator.PostAsync("/api/tokens", new JsonObject { ["name"] = texts["tokenName"], ["roles"] = new JsonArray("surgeon") })).Expect(201);
        var system = stranger.With(made.Text("token"));
        await CaseAsync(surgeon, system);
        await MischiefAsync(stranger, surgeon);
        return [TestClinic.Password, added.Text("code"), made.Text("token"), surgeon.Token!, administrator.Token!, TestClinic.SurgeonEmail];
    }

    private async Task CaseAsync(Caller surgeon, Caller system)
    {
        var body = Some.Case().With("patientRef", texts["patientRef"]).With("site.detail", texts["detail"]).With("twelveOClock", texts["twelve"]).With("caseNumber", texts["caseNumber"]).With("indications", new JsonArray(texts["indication"]));
        var id = (await surgeon.PostAsync("/api/cases", body, ("Idempotency-Key", texts["key"]))).Expect(201).Text("id");
        (await surgeon.PostAsync("/api/cases", body)).ExpectProblem(409);
        (await system.RecordAsync(id, Some.WholeLayer())).Expect(201);
        (await surgeon.ReadAsync(id, 1, "A", Some.Clear().With("note", texts["note"]))).Expect(201);
        (await surgeon.RecordAsync(id, Some.Rim("01:00", "02:00").With("reasonForUnread", texts["reason"]))).Expect(201);
        (await surgeon.EndAsync(id, Some.EndCleared())).ExpectProblem(409);
        (await surgeon.EndAsync(id, Some.Json("""{ "outcome": "stoppedNotCleared", "endedAt": "2026-03-03T12:00:00-05:00" }""").With("reason", texts["reason"]).With("plan", texts["plan"]))).Expect(200);
        foreach (var path in new[] { "", "/history", "/margins", "/map.svg", "/map.png", "/openings" })
        {
            (await surgeon.GetAsync($"/api/cases/{id}{path}")).Expect(200);
        }

        (await surgeon.GetAsync($"/cases/{id}/record")).Expect(200).Body.ShouldContain(texts["patientRef"]);
        (await surgeon.ReadAsync(id, 1, texts["label"], Some.Clear())).Status.ShouldBeOneOf(404, 409);
    }

    private async Task MischiefAsync(Caller stranger, Caller surgeon)
    {
        (await surgeon.GetAsync($"/api/cases?q={texts["query"]}&limit=5")).Expect(200);
        (await surgeon.GetAsync($"/api/cases?surgeon={texts["query"]}%40clinic.invalid")).ExpectProblem(400);
        (await surgeon.GetAsync($"/api/cases/{texts["path"]}")).ExpectProblem(404);
        (await surgeon.GetAsync($"/{texts["route"]}/{texts["path"]}")).Status.ShouldBe(404);
        (await surgeon.PostAsync("/api/cases", Some.Case().With(texts["field"], "x"))).ExpectProblem(400);
        (await surgeon.PostTextAsync("/api/cases", $"{{ \"patientRef\": {texts["garbage"]} }}")).ExpectProblem(400);
        (await surgeon.PostAsync("/api/cases", Some.Case(), ("Idempotency-Key", $"{texts["key"]} {texts["key"]}"))).ExpectProblem(400);
        (await surgeon.GetAsync("/api/cases", ("X-Anything", texts["header"]), ("User-Agent", texts["header"]))).Expect(200);
        (await stranger.PostAsync("/api/auth/login", new JsonObject { ["email"] = $"{texts["oddEmail"]}@clinic.invalid", ["password"] = "wrong" })).ExpectProblem(401);
        (await stranger.With("smt_" + texts["garbage"]).GetAsync("/api/cases")).ExpectProblem(401);
        (await stranger.With(texts["garbage"]).GetAsync("/api/cases")).ExpectProblem(401);
        (await stranger.PostAsync("/api/auth/refresh", new JsonObject { ["refreshToken"] = texts["garbage"] })).ExpectProblem(401);
        (await stranger.GetAsync("/api/auth/oidc/callback?code=x&state=y")).Status.ShouldBe(401);
    }
}

public sealed class LogTestsOnSqlite(PostgresServer server) : LogTests(Engine.Sqlite, server);

public sealed class LogTestsOnPostgres(PostgresServer server) : LogTests(Engine.Postgres, server);
