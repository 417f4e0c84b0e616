using System.Text.Json.Nodes;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Hosting;

/// <summary>What a whole run writes to its log: which address was called and how it ended, and nothing of any patient.</summary>
public sealed class LogTests(PostgresServer server) : IDisposable
{
    private readonly TempFolder home = new();
    private readonly List<string> secrets = [];

    public void Dispose() => home.Dispose();

    [Theory]
    [InlineData(Engine.Sqlite)]
    [InlineData(Engine.Postgres)]
    public async Task The_log_holds_no_patient_reference_no_free_text_and_no_secret(Engine engine)
    {
        await using var database = await TestDatabase.EmptyAsync(engine, server);
        await using var service = ServiceProcess.Start(home.Path, database.Environment(), "--urls", "http://127.0.0.1:0");
        await RunAsync(await service.StrangerAsync(), await service.FoundAsync("a@clinic.invalid"));
        await service.TerminateAsync();
        (await service.ExitCodeAsync()).ShouldBe(0);

        var log = service.Output + service.Errors;
        foreach (var status in new[] { 200, 201, 400, 401, 409 })
        {
            log.ShouldContain(FormattableString.Invariant($"responded {status}"));
        }

        log.ShouldContain("/api/cases");
        log.ShouldNotContain("responded 500");
        log.ShouldNotContain("Exception");
        foreach (var secret in secrets)
        {
            log.Contains(secret, StringComparison.OrdinalIgnoreCase).ShouldBeFalse($"The log holds a secret of kind {secret.Split('-')[0]}.");
        }
    }

    private async Task RunAsync(Caller stranger, Caller administrator)
    {
        secrets.AddRange([administrator.Token!, TestClinic.Password]);
        await TestClinic.AddAsync(administrator, stranger, TestClinic.SurgeonEmail, "surgeon");
        var login = (await stranger.PostAsync("/api/auth/login", new JsonObject { ["email"] = TestClinic.SurgeonEmail, ["password"] = TestClinic.Password })).Expect(200);
        secrets.AddRange([login.Text("accessToken"), login.Text("refreshToken")]);
        (await stranger.PostAsync("/api/auth/login", new JsonObject { ["email"] = TestClinic.SurgeonEmail, ["password"] = Secret("password") })).ExpectProblem(401);
        (await stranger.PostAsync("/api/auth/refresh", new JsonObject { ["refreshToken"] = Secret("token") })).ExpectProblem(401);
        (await stranger.With(Secret("token")).GetAsync("/api/cases")).ExpectProblem(401);
        var surgeon = stranger.With(login.Text("accessToken"));
        var id = await WriteAsync(surgeon);
        await BeRefusedAsync(surgeon, id);
    }

    private async Task<string> WriteAsync(Caller surgeon)
    {
        var id = await surgeon.OpenCaseAsync(Some.Case().With("patientRef", Secret("patient")).With("site.detail", Secret("detail"))
            .With("twelveOClock", Secret("direction")).With("indications", new JsonArray(Secret("indication"))));
        (await surgeon.RecordAsync(id, Some.WholeLayer())).Expect(201);
        (await surgeon.RecordAsync(id, Some.Rim("01:00", "02:00").With("reasonForUnread", Secret("reason")))).Expect(201);
        var reading = (await surgeon.ReadAsync(id, 1, "A", Some.Clear().With("note", Secret("note")))).Expect(201).Text("id");
        (await surgeon.ReadAsync(id, 1, "A", Some.Clear().With("amends", reading).With("reason", Secret("reason")))).Expect(201);
        (await surgeon.GetAsync($"/api/cases?q={Secret("search")}&limit=5")).Expect(200);
        (await surgeon.CaseAsync(id)).Status.ShouldBe(200);
        (await surgeon.EndAsync(id, Some.Json("""{ "outcome": "stoppedNotCleared" }""").With("reason", Secret("reason")).With("plan", Secret("plan")))).Expect(200);
        return id;
    }

    private async Task BeRefusedAsync(Caller surgeon, string id)
    {
        (await surgeon.PostAsync("/api/cases", Some.Case().With("patientRef", $"{Secret("patient")}{new string('x', 64)}"))).ExpectProblem(400, "patientRef");
        (await surgeon.PostAsync("/api/cases", Some.Case().With("patientRef", Secret("patient")).With("site.code", Secret("code")))).ExpectProblem(400, "site.code");
        (await surgeon.PostAsync("/api/cases", Some.Case().With("areaClass", Secret("word")))).ExpectProblem(400, "areaClass");
        (await surgeon.PostAsync("/api/cases", Some.Case().With("weightKg", Secret("number")))).ExpectProblem(400, "weightKg");
        (await surgeon.PostAsync("/api/cases", Some.Case().With(Secret("field"), Secret("value")))).ExpectProblem(400);
        (await surgeon.PostTextAsync("/api/cases", $$"""{ "patientRef": "{{Secret("patient")}}", """)).ExpectProblem(400);
        (await surgeon.PostTextAsync("/api/cases", Secret("body"))).ExpectProblem(400);
        (await surgeon.GetAsync($"/api/cases?surgeon={Secret("search")}")).ExpectProblem(400, "surgeon");
        (await surgeon.GetAsync($"/api/cases?cursor={Secret("cursor")}")).ExpectProblem(400, "cursor");
        (await surgeon.RecordAsync(id, Some.Rim("01:00", "02:00").With("reasonForUnread", Secret("note")))).ExpectProblem(409);
        (await surgeon.PostAsync("/api/cases", Some.Case(), ("Idempotency-Key", $"{Secret("key")} x"))).ExpectProblem(400);
    }

    private string Secret(string kind)
    {
        var secret = $"{kind}-{Guid.NewGuid():N}";
        secrets.Add(secret);
        return secret;
    }
}
