using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Features.Care;

/// <summary>Lidocaine label maxima: US product labelling, from memory.</summary>
public abstract class AnaestheticTests(TestClinic clinic)
{
    private Caller Surgeon => clinic.Surgeon;

    [Fact]
    public async Task Doses_add_up_over_the_stages_and_stand_in_the_case()
    {
        var id = await Surgeon.OpenCaseAsync(Some.Case().With("weightKg", 80));
        (await Surgeon.GetAsync($"/api/cases/{id}/anaesthetic")).Expect(200).At("totalMg").ShouldBeJson("0");
        var first = (await clinic.Histotech.PostAsync($"/api/cases/{id}/anaesthetic", CareSteps.Dose())).Expect(201);
        first.Header("Location").ShouldBe($"/api/cases/{id}/anaesthetic");
        (await Surgeon.RecordAsync(id, Some.WholeLayer())).Expect(201);
        (await Surgeon.PostAsync($"/api/cases/{id}/anaesthetic", CareSteps.Dose().With("volumeMl", 4))).Expect(201);
        var total = (await Surgeon.GetAsync($"/api/cases/{id}/anaesthetic")).Expect(200);
        total.At("totalMg").ShouldBeJson("100");
        total.At("mgPerKg").ShouldBeJson("1.25");
        total.At("maximumMg").ShouldBeJson("500");
        total.At("shareOfMaximum").ShouldBeJson("0.2");
        total.Text("level").ShouldBe("none");
        total.At("doses[0].mg").ShouldBeJson("60");
        total.Text("doses[0].source").ShouldContain("from memory");
        total.Text("doses[0].recordedBy").ShouldBe(TestClinic.HistotechEmail);
        total.Text("doses[0].givenAt").ShouldBe("2026-03-03T09:00:00-05:00");
        (await Surgeon.CaseAsync(id)).At("anaesthetic")!.ShouldBeJson(total.Body);
    }

    [Theory]
    [InlineData(50, 28, "caution")]
    [InlineData(50, 35, "alert")]
    [InlineData(50, 90, "alert")]
    [InlineData(null, 39.9, "none")]
    [InlineData(null, 40, "caution")]
    public async Task Too_much_is_said_loudly_and_never_refused(int? weight, double volume, string level)
    {
        var id = await Surgeon.OpenCaseAsync(Some.Case().With("weightKg", weight));
        var total = (await Surgeon.PostAsync($"/api/cases/{id}/anaesthetic", CareSteps.Dose().With("volumeMl", volume))).Expect(201);
        total.Text("level").ShouldBe(level);
        total.At("weightKnown").ShouldBeJson(weight is null ? "false" : "true");
    }

    [Fact]
    public async Task A_void_dose_stays_with_its_reason_and_does_not_count()
    {
        var id = await Surgeon.OpenCaseAsync();
        (await Surgeon.PostAsync($"/api/cases/{id}/anaesthetic", CareSteps.Dose())).Expect(201);
        var path = $"/api/cases/{id}/anaesthetic/1/void";
        (await Surgeon.PostAsync(path, Some.Json("{}"))).ExpectProblem(400, "reason");
        (await clinic.Histotech.PostAsync(path, Some.Json("""{ "reason": "misread" }"""))).ExpectProblem(403);
        var after = (await Surgeon.PostAsync(path, Some.Json("""{ "reason": "misread" }"""))).Expect(200);
        after.At("totalMg").ShouldBeJson("0");
        after.Text("doses[0].void.reason").ShouldBe("misread");
        (await Surgeon.PostAsync(path, Some.Json("""{ "reason": "misread" }"""))).ExpectProblem(409);
        (await Surgeon.PostAsync($"/api/cases/{id}/anaesthetic/2/void", Some.Json("""{ "reason": "misread" }"""))).ExpectProblem(404);
    }

    [Theory]
    [InlineData("agent", "\"ether\"")]
    [InlineData("agent", "null")]
    [InlineData("percent", "0")]
    [InlineData("percent", "11")]
    [InlineData("volumeMl", "-1")]
    [InlineData("volumeMl", "1e30")]
    [InlineData("adrenaline", "null")]
    [InlineData("givenAt", "\"2026-03-03T09:00:00\"")]
    [InlineData("dose", "1")]
    public async Task A_field_at_fault_is_named(string field, string value)
    {
        var id = await Surgeon.OpenCaseAsync();
        (await Surgeon.PostAsync($"/api/cases/{id}/anaesthetic", CareSteps.Dose().With(field, System.Text.Json.Nodes.JsonNode.Parse(value)))).ExpectProblem(400, field);
    }

    [Fact]
    public async Task The_same_key_gives_a_dose_once()
    {
        var id = await Surgeon.OpenCaseAsync();
        var body = CareSteps.Dose();
        (await Surgeon.PostAsync($"/api/cases/{id}/anaesthetic", body, ("Idempotency-Key", $"k-{id}"))).Expect(201);
        (await Surgeon.PostAsync($"/api/cases/{id}/anaesthetic", body, ("Idempotency-Key", $"k-{id}"))).Expect(201).At("totalMg").ShouldBeJson("60");
        (await Surgeon.PostAsync($"/api/cases/{id}/anaesthetic", body, ("If-Match", "\"1\""))).ExpectProblem(412);
    }
}

[Collection<OnSqlite>]
public sealed class AnaestheticTestsOnSqlite(SqliteClinic clinic) : AnaestheticTests(clinic);

[Collection<OnPostgres>]
public sealed class AnaestheticTestsOnPostgres(PostgresClinic clinic) : AnaestheticTests(clinic);
