using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Features.Cases;

public abstract partial class CaseTests(TestClinic clinic)
{
    [Fact]
    public async Task A_case_is_opened_at_a_place_of_its_own_where_it_reads_the_same()
    {
        var opened = (await clinic.Histotech.PostAsync("/api/cases", Some.Case())).Expect(201);
        opened.MediaType.ShouldBe("application/json");
        opened.Header("Location").ShouldBe($"/api/cases/{opened.Text("id")}");
        opened.Header("ETag").ShouldBe("\"1\"");
        opened.Text("status").ShouldBe("open");
        opened.At("outcome").ShouldBeNull();
        opened.At("recall").ShouldBeJson("false");
        opened.At("stages").ShouldBeJson("[]");
        opened.Text("margins.state").ShouldBe("noTissue");
        opened.Text("openedBy").ShouldBe(TestClinic.HistotechEmail);

        var read = (await clinic.Surgeon.GetAsync(opened.Header("Location")!)).Expect(200);
        read.Header("ETag").ShouldBe("\"1\"");
        read.Json.ShouldBeJson(opened.Body);
    }

    [Fact]
    public async Task Every_field_comes_back_under_the_name_and_with_the_value_it_went_in_by()
    {
        var sent = Some.Json($$"""
            { "patientRef": "{{Some.PatientRef()}}", "caseNumber": "X-{{Guid.NewGuid():N}}", "surgeonEmail": "{{TestClinic.OtherSurgeonEmail}}",
              "site": { "code": "C44.2", "side": "right", "detail": "hélix, обод, 耳輪" }, "areaClass": "M",
              "tumour": { "morphology": "8097/3", "recurrent": true, "differentiation": "poor", "border": "poorlyDefined", "depthMm": 2.125,
                          "deepestPlane": "cartilage", "perineural": { "present": true, "calibreMm": 0.1, "named": false }, "bone": "minorErosion",
                          "positiveNodes": false, "unresectable": false, "nevoidBasalCellSyndrome": true },
              "preOperative": { "lengthMm": 12.5, "widthMm": 8.001, "axis": "10:30" }, "twelveOClock": "toward the crown",
              "weightKg": 71.4, "immunosuppressed": true, "priorRadiation": false, "indications": ["recurrent tumour", "poorly defined border"] }
            """);
        sent["caseNumber"] = sent["caseNumber"]!.GetValue<string>()[..20];
        var id = await clinic.Surgeon.OpenCaseAsync(sent);
        var read = await clinic.Surgeon.CaseAsync(id);
        foreach (var (name, value) in sent)
        {
            read.At(name).ShouldBeJson(value!.ToJsonString());
        }
    }

    [Fact]
    public async Task A_case_has_the_fields_of_the_contract()
    {
        var id = await clinic.Surgeon.OpenWithLayerAsync();
        (await clinic.Surgeon.ReadAsync(id, 1, "A", Some.Clear())).Expect(201);
        var read = await clinic.Surgeon.CaseAsync(id);
        string[] ofCase = ["id", "caseNumber", "patientRef", "surgeonEmail", "status", "outcome", "recall", "site", "areaClass", "tumour", "preOperative", "twelveOClock", "stages", "margins"];
        ofCase.Except(read.Json.Fields()).ShouldBeEmpty();
        string[] ofStage = ["number", "takenAt", "pieces", "blocks", "alerts", "reasonForUnread", "reasonForUnconfirmedSite"];
        ofStage.Except(read.At("stages[0]").Fields()).ShouldBeEmpty();
        string[] ofBlock = ["label", "arc", "centre", "fromInk", "toInk", "readings"];
        ofBlock.Except(read.At("stages[0].blocks[0]").Fields()).ShouldBeEmpty();
        string[] ofReading = ["id", "outcome", "readerEmail", "readAt", "findings", "amends", "amendedBy", "reason", "note", "countersignedBy"];
        ofReading.Except(read.At("stages[0].blocks[0].readings[0]").Fields()).ShouldBeEmpty();
    }

    [Fact]
    public async Task A_case_number_is_made_of_the_year_and_a_count_where_none_is_given()
    {
        var first = (await clinic.Surgeon.PostAsync("/api/cases", Some.Case())).Text("caseNumber");
        var second = (await clinic.Surgeon.PostAsync("/api/cases", Some.Case())).Text("caseNumber");
        MadeNumber().IsMatch(first).ShouldBeTrue();
        second[..5].ShouldBe(first[..5]);
        int.Parse(second[5..], null).ShouldBe(int.Parse(first[5..], null) + 1);
    }

    [Fact]
    public async Task A_made_number_steps_over_one_that_was_taken_by_hand()
    {
        var last = (await clinic.Surgeon.PostAsync("/api/cases", Some.Case())).Text("caseNumber");
        var next = $"{last[..5]}{int.Parse(last[5..], null) + 1:0000}";
        (await clinic.Surgeon.PostAsync("/api/cases", Some.Case().With("caseNumber", next))).Expect(201);
        (await clinic.Surgeon.PostAsync("/api/cases", Some.Case())).Expect(201).Text("caseNumber").ShouldBe($"{last[..5]}{int.Parse(last[5..], null) + 2:0000}");
    }

    [Fact]
    public async Task A_case_number_is_given_once()
    {
        var number = $"N-{Guid.NewGuid():N}"[..20];
        (await clinic.Surgeon.PostAsync("/api/cases", Some.Case().With("caseNumber", number))).Expect(201).Text("caseNumber").ShouldBe(number);
        var written = await clinic.Database.WrittenAsync();
        (await clinic.Surgeon.PostAsync("/api/cases", Some.Case().With("caseNumber", number))).ExpectProblem(409);
        (await clinic.Database.WrittenAsync()).ShouldBe(written);
    }

    [Theory]
    [InlineData("")]
    [InlineData("/margins")]
    [InlineData("/stages/1")]
    public async Task What_is_not_there_is_not_found(string part)
    {
        (await clinic.Surgeon.GetAsync($"/api/cases/{Guid.NewGuid()}{part}")).ExpectProblem(404);
        (await clinic.Surgeon.GetAsync($"/api/cases/no-such-case{part}")).ExpectProblem(404);
    }

    [Fact]
    public async Task A_case_of_another_clinic_is_not_there()
    {
        var stranger = await OtherClinic.SurgeonAsync(clinic);
        var id = await clinic.Surgeon.OpenClearAsync();
        var ownId = await stranger.OpenCaseAsync(Some.Case().Without("surgeonEmail"));
        (await stranger.GetAsync($"/api/cases/{id}")).ExpectProblem(404);
        (await stranger.GetAsync($"/api/cases/{id}/margins")).ExpectProblem(404);
        (await stranger.GetAsync($"/api/cases/{id}/stages/1")).ExpectProblem(404);
        (await stranger.RecordAsync(id, Some.Rim("01:00", "02:00"))).ExpectProblem(404);
        (await stranger.EndAsync(id, Some.EndCleared())).ExpectProblem(404);
        (await stranger.GetAsync("/api/cases?limit=200")).At("items")!.AsArray().Select(item => item!["id"]!.GetValue<string>()).ShouldBe([ownId]);
        (await stranger.PostAsync("/api/cases", Some.Case())).ExpectProblem(400, "surgeonEmail");
    }

    [Fact]
    public async Task Two_clinics_may_use_the_same_case_number()
    {
        var stranger = await OtherClinic.SurgeonAsync(clinic);
        var number = $"S-{Guid.NewGuid():N}"[..20];
        (await clinic.Surgeon.PostAsync("/api/cases", Some.Case().With("caseNumber", number))).Expect(201);
        (await stranger.PostAsync("/api/cases", Some.Case().Without("surgeonEmail").With("caseNumber", number))).Expect(201);
    }

    [Fact]
    public async Task A_text_is_kept_without_the_blanks_around_it()
    {
        var opened = await clinic.Surgeon.PostAsync("/api/cases", Some.Case().With("twelveOClock", "  toward the vertex \t").With("site.detail", "   "));
        opened.Expect(201).Text("twelveOClock").ShouldBe("toward the vertex");
        opened.At("site.detail").ShouldBeNull();
    }

    [Fact]
    public async Task The_surgeon_may_be_left_open_and_is_found_whatever_the_case_of_the_letters()
    {
        (await clinic.Surgeon.PostAsync("/api/cases", Some.Case().Without("surgeonEmail"))).Expect(201).At("surgeonEmail").ShouldBeNull();
        var upper = JsonValue.Create(TestClinic.SurgeonEmail.ToUpperInvariant());
        (await clinic.Surgeon.PostAsync("/api/cases", Some.Case().With("surgeonEmail", upper))).Expect(201).Text("surgeonEmail").ShouldBe(TestClinic.SurgeonEmail);
    }

    [GeneratedRegex(@"^20\d\d-\d{4}\z")]
    private static partial Regex MadeNumber();
}

[Collection<OnSqlite>]
public sealed class CaseTestsOnSqlite(SqliteClinic clinic) : CaseTests(clinic);

[Collection<OnPostgres>]
public sealed class CaseTestsOnPostgres(PostgresClinic clinic) : CaseTests(clinic);
