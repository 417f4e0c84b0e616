using System.Text.Json.Nodes;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Features.Risk;

/// <summary>The rules themselves are checked against their published sources beside the core; here is how they are served.</summary>
public abstract class RiskTests(TestClinic clinic)
{
    private Caller Surgeon => clinic.Surgeon;

    [Fact]
    public async Task The_risk_of_a_squamous_tumour_has_the_fields_of_the_contract()
    {
        var id = await Surgeon.OpenCaseAsync(SquamousTumour());
        var risk = await RiskAsync(id);
        risk.Text("ajcc8.t").ShouldBe("T3");
        risk.At("ajcc8.factors").ShouldBeJson("""["deepInvasion"]""");
        risk.At("ajcc8.applies").ShouldBeJson("true");
        risk.Text("brighamWomens.t").ShouldBe("T2b");
        risk.At("brighamWomens.factors").ShouldBeJson("""["poorDifferentiation", "beyondSubcutaneousFat"]""");
        risk.Text("areaClass").ShouldBe("H");
        risk.Text("prompts[0].code").ShouldBe("curettageUnsuitable");
        risk.Text("prompts[0].message").ShouldNotBeEmpty();
        risk.Text("ruleVersion").ShouldNotBeEmpty();
    }

    [Fact]
    public async Task A_system_that_does_not_apply_gives_no_category()
    {
        var id = await Surgeon.OpenCaseAsync(Some.Case().With("tumour.morphology", "8832/3"));
        var risk = await RiskAsync(id);
        foreach (var system in new[] { "ajcc8", "brighamWomens" })
        {
            risk.At($"{system}.t").ShouldBeNull();
            risk.At($"{system}.applies").ShouldBeJson("false");
            risk.At($"{system}.factors").ShouldBeJson("[]");
            risk.At($"{system}.atLeast").ShouldBeJson("false");
        }
    }

    [Fact]
    public async Task What_is_not_known_and_what_slides_and_intake_say_against_each_other_is_named()
    {
        var id = await Surgeon.OpenCaseAsync(Some.Case().With("tumour", JsonNode.Parse("""{ "morphology": "8070/3", "differentiation": "well", "deepestPlane": "dermis", "perineural": { "present": false } }""")));
        var before = await RiskAsync(id);
        before.At("ajcc8.missing").ShouldBeJson("""["depthMm"]""");
        before.At("ajcc8.atLeast").ShouldBeJson("true");
        before.At("brighamWomens.atLeast").ShouldBeJson("false");
        before.At("missing").ShouldBeJson("""["depthMm"]""");
        before.At("conflicts").ShouldBeJson("[]");
        (await Surgeon.RecordAsync(id, Some.WholeLayer().With("pieces[0].plane", "muscle"))).Expect(201);
        (await Surgeon.ReadAsync(id, 1, "A", Some.Json("""
            { "outcome": "tumour", "readerEmail": "surgeon@clinic.invalid", "readAt": "2026-03-03T09:52:00-05:00",
              "findings": [ { "kind": "perineuralInvasion", "margin": "deep", "arc": { "from": "01:00", "to": "02:00" }, "calibreMm": 0.1 } ] }
            """).With("readerEmail", TestClinic.SurgeonEmail))).Expect(201);
        var after = await RiskAsync(id);
        (after.Text("ajcc8.t"), after.Text("brighamWomens.t")).ShouldBe(("T3", "T2b"));
        after.At("conflicts[0].fact").ShouldBeJson("\"perineural\"");
        after.At("conflicts[1].fact").ShouldBeJson("\"deepestPlane\"");
        (after.Text("conflicts[1].intake"), after.Text("conflicts[1].slides")).ShouldBe(("dermis", "muscle"));
        after.At("prompts")!.AsArray().Select(prompt => prompt!["code"]!.GetValue<string>()).ShouldBe(["considerRadiationOpinion", "considerNodalImaging"]);
    }

    [Fact]
    public async Task The_risk_follows_the_facts_and_what_it_was_is_kept_with_its_rules()
    {
        var id = await Surgeon.OpenCaseAsync(SquamousTumour());
        var correction = Some.Json("""{ "tumour": { "perineural": { "present": true, "calibreMm": 0.1 } }, "preOperative": { "lengthMm": 20, "widthMm": 8 }, "reason": "pathology report" }""");
        (await clinic.Histotech.PostAsync($"/api/cases/{id}/facts", correction)).Expect(200).Text("tumour.differentiation").ShouldBe("poor");
        (await RiskAsync(id)).Text("brighamWomens.t").ShouldBe("T3");
        var kept = (await Surgeon.GetAsync($"/api/cases/{id}/risk/assessments")).Expect(200).Json.AsArray();
        kept.Count.ShouldBe(2);
        kept[0]!["risk"]!["brighamWomens"]!["t"]!.GetValue<string>().ShouldBe("T2b");
        kept[1]!["risk"]!["brighamWomens"]!["t"]!.GetValue<string>().ShouldBe("T3");
        kept.ShouldAllBe(one => one!["assessedAt"] != null && one["risk"]!["ruleVersion"] != null);
        (await Surgeon.GetAsync($"/api/cases/{id}/history")).Expect(200).At("chain.intact").ShouldBeJson("true");
    }

    [Fact]
    public async Task The_clinic_sets_which_side_exactly_two_centimetres_stand_on()
    {
        var id = await Surgeon.OpenCaseAsync(Some.Case().With("preOperative.lengthMm", 20).With("tumour.morphology", "8070/3"));
        (await RiskAsync(id)).Text("ajcc8.t").ShouldBe("T2");
        (await clinic.Administrator.PostAsync("/api/clinic", Some.Json("""{ "sizeBoundary": "belongsBelow" }"""))).Expect(200).Text("sizeBoundary").ShouldBe("belongsBelow");
        (await RiskAsync(id)).Text("ajcc8.t").ShouldBe("T1");
        (await clinic.Administrator.PostAsync("/api/clinic", Some.Json("""{ "sizeBoundary": "belongsAbove" }"""))).Expect(200);
    }

    [Fact]
    public async Task A_correction_without_reason_or_with_an_unknown_fact_is_refused_and_changes_nothing()
    {
        var id = await Surgeon.OpenCaseAsync(SquamousTumour());
        var before = (await Surgeon.CaseAsync(id)).Body;
        (await Surgeon.PostAsync($"/api/cases/{id}/facts", Some.Json("""{ "immunosuppressed": true }"""))).ExpectProblem(400);
        (await Surgeon.PostAsync($"/api/cases/{id}/facts", Some.Json("""{ "imunosuppressed": true, "reason": "x" }"""))).ExpectProblem(400);
        (await Surgeon.PostAsync($"/api/cases/{id}/facts", Some.Json("""{ "tumour": { "morphology": "squamous" }, "reason": "x" }"""))).ExpectProblem(400);
        (await Surgeon.CaseAsync(id)).Json.ShouldBeJson(before);
    }

    [Fact]
    public async Task A_rehearsal_gives_what_the_case_would_have_and_writes_nothing()
    {
        var before = await clinic.Database.WrittenAsync();
        (await Surgeon.PostAsync("/api/cases/risk-rehearsal", Some.Json("""{ "site": { "code": "C44.2" }, "tumour": { "morphology": "8070/3" } }"""))).Expect(200).Text("ajcc8.t").ShouldBe("TX");
        (await clinic.Database.WrittenAsync()).ShouldBe(before);
    }

    private static JsonObject SquamousTumour() => Some.Case().With("tumour", JsonNode.Parse("""
        { "morphology": "8070/3", "differentiation": "poor", "depthMm": 3, "deepestPlane": "fascia", "perineural": { "present": false } }
        """));

    private async Task<Reply> RiskAsync(string id) => (await Surgeon.GetAsync($"/api/cases/{id}/risk")).Expect(200);
}

[Collection<OnSqlite>]
public sealed class RiskTestsOnSqlite(SqliteClinic clinic) : RiskTests(clinic);

[Collection<OnPostgres>]
public sealed class RiskTestsOnPostgres(PostgresClinic clinic) : RiskTests(clinic);
