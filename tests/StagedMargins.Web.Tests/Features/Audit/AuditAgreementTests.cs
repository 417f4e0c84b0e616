using System.Text.Json.Nodes;
using CsCheck;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Core.Tests.Oracle;
using StagedMargins.Storage.Audit;
using StagedMargins.Storage.Cases;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Features.Audit;

/// <summary>Random ended cases over HTTP: the summaries are those that the record gives, and the figures those that the cases give one by one.</summary>
public abstract class AuditAgreementTests(Engine engine, PostgresServer server)
{
    private static readonly Gen<int[]> Rolls = Gen.Int[0, 9_999].Array[20, 60];

    [Fact]
    public async Task Figures_and_summaries_are_those_of_the_record_whatever_is_recorded_and_amended()
    {
        await using var clinic = engine == Engine.Sqlite ? (TestClinic)new SqliteClinic(server) : new PostgresClinic(server);
        await clinic.InitializeAsync();
        await Rolls.SampleAsync(async rolls => await PlayAsync(clinic, new RandomDraws(rolls)), iter: 30, threads: 1);
        await SameFiguresAsync(clinic);
        await SameSummariesAsync(clinic, different: 0);

        // A summary that was tampered with is found, and made again.
        await clinic.Database.ExecuteAsync("UPDATE audit_cases SET stages = stages + 1, recall = 1 - recall WHERE outcome = 'cleared'");
        var cleared = (await clinic.Database.QueryAsync<long>("SELECT count(*) FROM audit_cases WHERE outcome = 'cleared'"))[0];
        cleared.ShouldBeGreaterThan(0);
        await SameSummariesAsync(clinic, (int)cleared);
        await using var db = clinic.Database.NewContext(await ClinicIdAsync(clinic));
        (await db.RebuildSummariesAsync(onlyMissing: false, TestContext.Current.CancellationToken)).ShouldBe((int)cleared);
        await SameSummariesAsync(clinic, different: 0);
        await SameFiguresAsync(clinic);
    }

    private static async Task PlayAsync(TestClinic clinic, RandomDraws random)
    {
        var surgeon = random.Chance(50) ? TestClinic.SurgeonEmail : TestClinic.OtherSurgeonEmail;
        var opening = Some.Case().With("surgeonEmail", random.Chance(10) ? null : surgeon)
            .With("areaClass", random.OneOf("H", "M", null)).With("tumour.morphology", random.OneOf("8090/3", "8070/3", "8742/2", "8832/3"))
            .With("preOperative", random.Chance(20) ? null : new JsonObject { ["lengthMm"] = random.Between(3, 45), ["widthMm"] = random.Between(3, 20) });
        var stages = random.Between(1, 6);
        var id = await clinic.Surgeon.OpenCaseAsync(opening);
        if (random.Chance(90))
        {
            (await clinic.Surgeon.RecordAsync(id, Some.WholeLayer())).Expect(201);
            await ReadAsync(clinic, id, 1, "A", random, isClear: true);
            await ReadAsync(clinic, id, 1, "B", random, isClear: stages == 1);
            for (var stage = 2; stage <= stages; stage++)
            {
                (await clinic.Surgeon.RecordAsync(id, Some.Rim("07:00", "09:30"))).Expect(201);
                await ReadAsync(clinic, id, stage, "A", random, isClear: stage == stages);
            }
        }

        if (random.Chance(15))
        {
            (await clinic.Surgeon.EndAsync(id, Some.Json("""{ "outcome": "continuesLater", "continuesOn": "2026-03-10", "endedAt": "2026-03-03T18:00:00-05:00" }"""))).Expect(200);
            if (random.Chance(50))
            {
                return;
            }
        }

        await EndAsync(clinic, id, random);
        if ((await clinic.Surgeon.CaseAsync(id)).At("stages")!.AsArray().Count > 0)
        {
            await ReadAgainAsync(clinic, id, random);
            for (var amendments = random.Below(3); amendments > 0; amendments--)
            {
                await clinic.Surgeon.AmendAsync(id, 1, "A", random.OneOf(Some.Clear(), Some.Tumour("01:00", "02:00"), Unreadable(), Partly()));
            }

            await ReviewAndReopenAsync(clinic, id, random);
        }
    }

    private static async Task EndAsync(TestClinic clinic, string id, RandomDraws random)
    {
        var end = Some.EndCleared().With("reason", "wish").With("plan", "referral")
            .With("endedAt", $"202{random.Between(2, 5)}-{random.Between(1, 12):00}-{random.Between(1, 28):00}T{random.Between(0, 23):00}:30:00Z");
        string[] outcomes = (await clinic.Surgeon.CaseAsync(id)).At("stages")!.AsArray().Count == 0 ? ["notDone"] : ["cleared", "stoppedWithTumour", "stoppedNotCleared"];
        foreach (var outcome in outcomes)
        {
            if ((await clinic.Surgeon.EndAsync(id, end.With("outcome", outcome))).Status == 200)
            {
                return;
            }
        }

        throw new InvalidOperationException("A case could be ended in no way.");
    }

    // Reviews answered or left, and an end that is taken back: for good, or until the case ends again, with corrections between.
    private static async Task ReviewAndReopenAsync(TestClinic clinic, string id, RandomDraws random)
    {
        foreach (var review in (await clinic.Surgeon.CaseAsync(id)).At("reviews")!.AsArray().Where(_ => random.Chance(50)))
        {
            (await clinic.Surgeon.PostAsync($"/api/cases/{id}/reviews/{review!["id"]}/resolution", Some.Json("""{ "decision": "observe", "note": "small" }"""))).Expect(200);
        }

        if (!random.Chance(40))
        {
            return;
        }

        (await clinic.Surgeon.PostAsync($"/api/cases/{id}/reopening", Some.Json("""{ "reason": "closed too early" }"""))).Expect(200);
        var last = (await clinic.Surgeon.CaseAsync(id)).At("stages")!.AsArray().Count;
        if (random.Chance(30))
        {
            (await clinic.Surgeon.PostAsync($"/api/cases/{id}/stages/1/correction", Some.Json("""{ "reason": "by the wall clock", "takenAt": "2026-03-03T09:05:00-05:00" }"""))).Expect(200);
        }

        if (random.Chance(30) && last > 1)
        {
            (await clinic.Surgeon.PostAsync($"/api/cases/{id}/stages/{last}/withdrawal", Some.Json("""{ "reason": "never taken" }"""))).Expect(200);
        }
        else if (random.Chance(30))
        {
            var reading = await clinic.Surgeon.CountingAsync(id, 1, "B");
            (await clinic.Surgeon.PostAsync($"/api/cases/{id}/readings/{reading}/withdrawal", Some.Json("""{ "reason": "wrong slide" }"""))).Expect(200);
        }

        if (random.Chance(70))
        {
            await EndAsync(clinic, id, random);
        }
    }

    // Asked for before or after the block was read, answered or left, and the facts corrected after the end.
    private static async Task ReadAgainAsync(TestClinic clinic, string id, RandomDraws random)
    {
        var read = 0;
        foreach (var block in new[] { "A", "B" }.Where(_ => random.Chance(50)))
        {
            read++;
            (await clinic.Surgeon.PostAsync($"/api/cases/{id}/stages/1/blocks/{block}/second-reads", new JsonObject { ["readerEmail"] = TestClinic.OtherSurgeonEmail })).Expect(201);
            var (answer, body) = random.Chance(85)
                ? ("answer", new JsonObject { ["outcome"] = random.OneOf("clear", "clear", "tumour", "unreadable") })
                : ("give-back", new JsonObject { ["reason"] = "not found" });
            (await clinic.OtherSurgeon.PostAsync($"/api/cases/{id}/second-reads/{read}/{answer}", body)).Expect(200);
        }

        if (random.Chance(40))
        {
            var correction = random.OneOf(Some.Json("""{ "areaClass": "L" }"""), Some.Json("""{ "preOperative": { "lengthMm": 21, "widthMm": 8 } }"""), Some.Json("""{ "tumour": { "morphology": "8070/3" } }"""));
            (await clinic.Surgeon.PostAsync($"/api/cases/{id}/facts", correction.With("reason", "entered wrongly").With("areaClassReason", "measured on the photograph"))).Expect(200);
        }
    }

    private static async Task ReadAsync(TestClinic clinic, string id, int stage, string block, RandomDraws random, bool isClear)
    {
        var at = $"2026-03-03T{random.Between(9, 13):00}:{random.Between(0, 59):00}:00-05:00";
        var reading = (isClear ? Some.Clear() : Some.Tumour("07:30", "09:00")).With("readAt", at);
        if (random.Chance(20))
        {
            (await clinic.Surgeon.ReadAsync(id, stage, block, Unreadable())).Expect(201);
            await clinic.Surgeon.AmendAsync(id, stage, block, reading);
        }
        else
        {
            (await clinic.Surgeon.ReadAsync(id, stage, block, reading)).Expect(201);
        }
    }

    private static JsonObject Partly() => Some.Json($$"""
        { "outcome": "clear", "readerEmail": "{{TestClinic.SurgeonEmail}}", "readAt": "2026-03-03T09:52:00-05:00",
          "findings": [ { "kind": "notSeen", "margin": "peripheral", "arc": { "from": "01:00", "to": "02:00" } } ] }
        """);

    private static JsonObject Unreadable() => Some.Clear().With("outcome", "unreadable");

    private static async Task SameFiguresAsync(TestClinic clinic)
    {
        var slow = await AuditOracle.OfAsync(clinic.Surgeon);
        foreach (var by in new[] { "surgeon", "areaClass", "tumour", "sizeBand", "month" })
        {
            var served = (await clinic.Manager.GetAsync($"/api/audit?groupBy={by}")).Expect(200).Json;
            slow.ShouldBe(served);
            var groups = served["groups"]!.AsArray();
            groups.Sum(group => group!["cases"]!.GetValue<int>()).ShouldBe(served["cases"]!.GetValue<int>());
            foreach (var group in groups)
            {
                slow.Where(caseJson => KeyOf(caseJson, by) == group!["key"]!.GetValue<string>()).ShouldBe(group!);
            }
        }

        var own = (await clinic.Surgeon.GetAsync("/api/audit")).Expect(200).Json;
        slow.ShouldBe(own["clinic"]!);
        slow.Where(caseJson => KeyOf(caseJson, "surgeon") == TestClinic.SurgeonEmail).ShouldBe(own);
    }

    private static string KeyOf(JsonNode caseJson, string by) => by switch
    {
        "surgeon" => caseJson["surgeonEmail"]?.GetValue<string>() ?? "notStated",
        // The site of every case here is one of area class H, unless it was said otherwise.
        "areaClass" => caseJson["areaClass"]?.GetValue<string>() ?? "H",
        "tumour" => caseJson["tumour"]!["morphology"]!.GetValue<string>() switch { "8090/3" => "basalCell", "8070/3" => "squamousCell", "8742/2" => "melanocytic", _ => "other" },
        "sizeBand" => caseJson["preOperative"] is { } size
            ? Math.Max(size["lengthMm"]!.GetValue<double>(), size["widthMm"]!.GetValue<double>()) switch { < 10 => "under10Mm", < 20 => "from10Mm", < 40 => "from20Mm", _ => "from40Mm" }
            : "notMeasured",
        _ => TimeZoneInfo.ConvertTime(caseJson["endedAt"]!.GetValue<DateTimeOffset>(), TimeZoneInfo.FindSystemTimeZoneById(TestClinic.TimeZone)).ToString("yyyy-MM", System.Globalization.CultureInfo.InvariantCulture),
    };

    private static async Task SameSummariesAsync(TestClinic clinic, int different)
    {
        await using var db = clinic.Database.NewContext(await ClinicIdAsync(clinic));
        var found = 0;
        foreach (var id in await db.Cases.Select(c => c.CaseId).ToListAsync(TestContext.Current.CancellationToken))
        {
            db.ChangeTracker.Clear();
            found += await db.SummaryFollowsAsync((await db.FindCaseAsync(id, TestContext.Current.CancellationToken))!, TestContext.Current.CancellationToken) ? 0 : 1;
        }

        found.ShouldBe(different);
    }

    private static async Task<Guid> ClinicIdAsync(TestClinic clinic)
    {
        await using var db = clinic.Database.NewContext();
        return await db.Clinics.Select(c => c.Id).SingleAsync(TestContext.Current.CancellationToken);
    }
}

public sealed class AuditAgreementOnSqlite(PostgresServer server) : AuditAgreementTests(Engine.Sqlite, server);

[RunsFirst]
public sealed class AuditAgreementOnPostgres(PostgresServer server) : AuditAgreementTests(Engine.Postgres, server);
