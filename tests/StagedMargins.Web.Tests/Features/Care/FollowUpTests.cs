using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Features.Care;

public abstract class FollowUpTests(TestClinic clinic)
{
    private Caller Surgeon => clinic.Surgeon;

    [Fact]
    public async Task A_repair_has_its_day_and_the_last_entry_holds()
    {
        var id = await ClearedAsync();
        (await Surgeon.CaseAsync(id)).Text("repair.kind").ShouldBe("flap");
        (await Surgeon.CaseAsync(id)).At("repair.repairedOn").ShouldBeNull();
        (await Surgeon.PostAsync($"/api/cases/{id}/repair", CareSteps.Repair())).Expect(201).Text("repairedOn").ShouldBe("2026-03-03");
        (await Surgeon.PostAsync($"/api/cases/{id}/repair", CareSteps.Repair().With("kind", "graft"))).ExpectProblem(400, "reason");
        (await Surgeon.PostAsync($"/api/cases/{id}/repair", CareSteps.Repair().With("kind", "graft").With("reason", "flap not possible"))).Expect(201);
        (await Surgeon.CaseAsync(id)).Text("repair.kind").ShouldBe("graft");
        (await Surgeon.CaseAsync(id)).At("repair.caution").ShouldBeNull();
    }

    [Fact]
    public async Task A_repair_over_margins_that_are_not_clear_is_said()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        (await Surgeon.PostAsync($"/api/cases/{id}/repair", CareSteps.Repair())).Expect(201).Text("caution").ShouldContain("not clear");
    }

    [Theory]
    [InlineData("kind", "null")]
    [InlineData("kind", "\"glue\"")]
    [InlineData("repairedOn", "null")]
    [InlineData("repairedOn", "\"2026-02-30\"")]
    [InlineData("repairedOn", "\"2026-03-01\"")]
    public async Task A_repair_with_a_field_at_fault_is_refused(string field, string value)
    {
        var id = await Surgeon.OpenWithLayerAsync();
        (await Surgeon.PostAsync($"/api/cases/{id}/repair", CareSteps.Repair().With(field, System.Text.Json.Nodes.JsonNode.Parse(value)))).ExpectProblem(400, field);
    }

    [Fact]
    public async Task A_visit_says_yes_or_no_and_a_correction_stands_in_its_place()
    {
        var id = await ClearedAsync();
        (await Surgeon.PostAsync($"/api/cases/{id}/visits", CareSteps.Visit("2026-06-03", false).Without("recurrence"))).ExpectProblem(400, "recurrence");
        (await Surgeon.PostAsync($"/api/cases/{id}/visits", CareSteps.Visit("2026-06-03", true))).Expect(201).Number("number").ShouldBe(1);
        (await Surgeon.PostAsync($"/api/cases/{id}/visits", CareSteps.Visit("2026-06-03", false).With("corrects", 1))).ExpectProblem(400, "reason");
        (await Surgeon.PostAsync($"/api/cases/{id}/visits", CareSteps.Visit("2026-06-03", false).With("corrects", 1).With("reason", "a scar"))).Expect(201);
        var visits = (await Surgeon.GetAsync($"/api/cases/{id}/visits")).Expect(200);
        visits.At("[0].correctedBy").ShouldBeJson("2");
        (await Surgeon.CaseAsync(id)).At("visits")!.ShouldBeJson(visits.Body);
    }

    [Fact]
    public async Task Turnaround_stands_in_the_case_by_stage()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        (await Surgeon.PostAsync($"/api/cases/{id}/stages/1/times", Some.Json("""{ "receivedAt": "2026-03-03T09:14:00-05:00", "slidesReadyAt": "2026-03-03T09:40:00-05:00" }"""))).Expect(200);
        (await Surgeon.ReadAsync(id, 1, "A", Some.Clear())).Expect(201);
        (await Surgeon.CaseAsync(id)).At("stages[0].turnaround.totalMinutes").ShouldBeNull();
        (await Surgeon.ReadAsync(id, 1, "B", Some.Clear())).Expect(201);
        (await Surgeon.CaseAsync(id)).At("stages[0].turnaround")!.ShouldBeJson(
            """{ "receivedMinutes": 4, "slidesReadyMinutes": 26, "readMinutes": 12, "totalMinutes": 42, "readAt": "2026-03-03T09:52:00-05:00", "outOfOrder": false }""");
    }

    [Fact]
    public async Task The_curve_counts_cleared_cases_of_a_period_and_shows_a_surgeon_their_own()
    {
        var (first, second, third) = (await ClearedAsync("2019-03-03"), await ClearedAsync("2019-03-04"), await ClearedAsync("2019-03-05"));
        (await Surgeon.PostAsync($"/api/cases/{first}/visits", CareSteps.Visit("2026-03-03", true))).Expect(201);
        (await Surgeon.PostAsync($"/api/cases/{second}/visits", CareSteps.Visit("2026-03-04", false))).Expect(201);
        third.ShouldNotBe(first);
        var curve = (await clinic.Manager.GetAsync("/api/follow-up/recurrence?from=2019-03-01&to=2019-03-31")).Expect(200);
        (curve.Number("cases"), curve.Number("recurrences"), curve.Number("withoutVisit")).ShouldBe((2, 1, 1));
        curve.At("smallGroup").ShouldBeJson("true");
        curve.At("steps[0].share").ShouldBeJson("0.5");
        (await Surgeon.GetAsync("/api/follow-up/recurrence?from=2019-03-01&to=2019-03-31")).Expect(200).Body.ShouldBe(curve.Body);
        (await clinic.OtherSurgeon.GetAsync("/api/follow-up/recurrence?from=2019-03-01&to=2019-03-31")).Expect(200).Number("cases").ShouldBe(0);
        (await clinic.Manager.GetAsync("/api/follow-up/recurrence?from=soon")).ExpectProblem(400, "from");
    }

    [Theory]
    [InlineData("", 1200)]
    [InlineData("?width=400", 400)]
    [InlineData("?from=1999-01-01&to=1999-01-02", 1200)]
    public async Task The_curve_is_drawn(string query, int width)
    {
        await ClearedAsync();
        using var request = new HttpRequestMessage(HttpMethod.Get, $"{clinic.Host.Address}api/follow-up/recurrence.png{query}");
        request.Headers.Authorization = new("Bearer", clinic.Manager.Token);
        using var http = new HttpClient();
        using var answer = await http.SendAsync(request, TestContext.Current.CancellationToken);
        answer.Content.Headers.ContentType!.MediaType.ShouldBe("image/png");
        var bytes = await answer.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken);
        System.Buffers.Binary.BinaryPrimitives.ReadInt32BigEndian(bytes.AsSpan(16)).ShouldBe(width);
    }

    [Fact]
    public async Task A_month_lists_the_counting_units_of_its_cases_without_patient_references()
    {
        var id = await ClearedAsync("2019-05-31");
        var number = (await Surgeon.CaseAsync(id)).Text("caseNumber");
        var month = (await clinic.Manager.GetAsync("/api/counting-units/months/2019-05")).Expect(200);
        var mine = month.At("cases")!.AsArray().Single(one => one!["caseNumber"]!.GetValue<string>() == number)!;
        mine["regionGroup"]!.GetValue<string>().ShouldBe("headNeckHandsFeetGenitalia");
        mine["units"].ShouldBeJson("""[ { "unit": "firstStage", "count": 1, "code": null, "price": null }, { "unit": "furtherStage", "count": 0, "code": null, "price": null }, { "unit": "blockBeyondFive", "count": 0, "code": null, "price": null } ]""");
        month.Body.ShouldNotContain((await Surgeon.CaseAsync(id)).Text("patientRef"));
        (await clinic.OtherSurgeon.GetAsync("/api/counting-units/months/2019-05")).Expect(200).Body.ShouldNotContain(number);
        (await clinic.Manager.GetAsync("/api/counting-units/months/2019-05.csv")).Expect(200).Body.ShouldContain($"{number},headNeckHandsFeetGenitalia,firstStage,1,,\r\n");
        (await clinic.Manager.GetAsync("/api/counting-units/months/2019-13")).ExpectProblem(400, "month");
    }

    private async Task<string> ClearedAsync(string day = "2026-03-03")
    {
        var id = await Surgeon.OpenCaseAsync();
        (await Surgeon.RecordAsync(id, Some.WholeLayer().With("takenAt", $"{day}T09:10:00-05:00"))).Expect(201);
        (await Surgeon.ReadAsync(id, 1, "A", Some.Clear())).Expect(201);
        (await Surgeon.ReadAsync(id, 1, "B", Some.Clear())).Expect(201);
        (await Surgeon.EndAsync(id, Some.EndCleared().With("endedAt", $"{day}T12:00:00-05:00"))).Expect(200);
        return id;
    }
}

[Collection<OnSqlite>]
public sealed class FollowUpTestsOnSqlite(SqliteClinic clinic) : FollowUpTests(clinic);

[Collection<OnPostgres>]
public sealed class FollowUpTestsOnPostgres(PostgresClinic clinic) : FollowUpTests(clinic);
