using System.Text.Json.Nodes;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Features.Care;

public abstract class EvidenceTests(TestClinic clinic)
{
    private Caller Surgeon => clinic.Surgeon;

    private Caller Second => clinic.OtherSurgeon;

    [Fact]
    public async Task The_second_reader_sees_nothing_of_the_case_until_both_readings_are_in()
    {
        var id = await Surgeon.OpenClearAsync();
        await clinic.AskSecondReadAsync(id);
        foreach (var path in new[] { "", "/margins", "/history", "/map.svg", "/stages/1", "/anaesthetic", "/visits" })
        {
            (await Second.GetAsync($"/api/cases/{id}{path}")).ExpectProblem(409).Body.ShouldNotContain("clear");
        }

        (await Second.PreviewAsync(id, Some.Rim("01:00", "02:00"))).ExpectProblem(409);
        (await Second.GetAsync("/api/cases?limit=200")).Expect(200).Body.ShouldNotContain(id);
        var asked = await Surgeon.CaseAsync(id);
        asked.Text("secondReads[0].state").ShouldBe("awaited");
        asked.At("secondReads[0].first").ShouldBeNull();

        var task = (await Second.GetAsync("/api/second-reads")).Expect(200).Json.AsArray().Single(one => one!["caseId"]!.GetValue<string>() == id)!;
        (task["block"]!.GetValue<string>(), task["arc"]!["to"]!.GetValue<string>(), task["fromInk"]!.GetValue<string>()).ShouldBe(("A", "06:00", "blue"));
        task.ToJsonString().ShouldNotContain("clear");

        (await Second.PostAsync($"/api/cases/{id}/second-reads/1/answer", Some.Json("""{ "outcome": "tumour", "note": "at 2" }"""))).Expect(200).Text("first").ShouldBe("clear");
        var seen = await Second.CaseAsync(id);
        (seen.Text("secondReads[0].first"), seen.Text("secondReads[0].second"), seen.Text("margins.state")).ShouldBe(("clear", "tumour", "awaitingReadings"));
        (seen.Text("reviews[0].code"), seen.Number("openReviews"), seen.Text("waitsFor")).ShouldBe(("secondReadDiffers", 1, "reading"));
        (await Second.GetAsync("/api/second-reads")).Body.ShouldNotContain(id);
    }

    [Fact]
    public async Task Who_has_opened_the_case_is_not_asked_to_read_it_blind()
    {
        var id = await Surgeon.OpenClearAsync();
        await Second.CaseAsync(id);
        await OpeningWrittenAsync(id);
        (await Surgeon.PostAsync($"/api/cases/{id}/stages/1/blocks/A/second-reads", new JsonObject { ["readerEmail"] = TestClinic.OtherSurgeonEmail })).ExpectProblem(409);
    }

    [Fact]
    public async Task A_second_read_is_asked_of_another_surgeon_and_answered_by_them_alone()
    {
        var id = await Surgeon.OpenClearAsync();
        var path = $"/api/cases/{id}/stages/1/blocks/A/second-reads";
        (await Surgeon.PostAsync(path, new JsonObject())).ExpectProblem(400, "readerEmail");
        (await Surgeon.PostAsync(path, new JsonObject { ["readerEmail"] = TestClinic.HistotechEmail })).ExpectProblem(400, "readerEmail");
        (await Surgeon.PostAsync(path, new JsonObject { ["readerEmail"] = TestClinic.SurgeonEmail })).ExpectProblem(409);
        await clinic.AskSecondReadAsync(id);
        (await Surgeon.PostAsync($"/api/cases/{id}/second-reads/1/answer", Some.Json("""{ "outcome": "clear" }"""))).ExpectProblem(409);
        (await Second.PostAsync($"/api/cases/{id}/second-reads/1/answer", Some.Json("{}"))).ExpectProblem(400, "outcome");
        (await Second.PostAsync($"/api/cases/{id}/second-reads/1/give-back", Some.Json("{}"))).ExpectProblem(400, "reason");
        (await Second.PostAsync($"/api/cases/{id}/second-reads/1/give-back", Some.Json("""{ "reason": "on leave" }"""))).Expect(200).Text("state").ShouldBe("givenBack");
        (await Second.PostAsync($"/api/cases/{id}/second-reads/1/answer", Some.Json("""{ "outcome": "clear" }"""))).ExpectProblem(409);
        await Second.CaseAsync(id);
    }

    [Fact]
    public async Task A_permanent_section_that_differs_is_said_and_makes_its_block_unread()
    {
        var id = await Surgeon.OpenClearAsync();
        var path = $"/api/cases/{id}/stages/1/blocks/B/permanent-section";
        (await Surgeon.PostAsync($"{path}/result", Some.Json("""{ "outcome": "clear" }"""))).ExpectProblem(404);
        (await clinic.Histotech.PostAsync(path, Some.Json("""{ "sentAt": "2026-03-03T12:00:00-05:00", "note": "deep edge" }"""))).Expect(201).At("outcome").ShouldBeNull();
        (await clinic.Histotech.PostAsync(path, new JsonObject())).ExpectProblem(409);
        (await Surgeon.PostAsync($"{path}/result", Some.Json("""{ "outcome": "tumour", "reportedAt": "2026-03-02T12:00:00-05:00" }"""))).ExpectProblem(400, "reportedAt");
        (await Surgeon.PostAsync($"{path}/result", Some.Json("""{ "outcome": "tumour", "reportedAt": "2026-03-06T12:00:00-05:00" }"""))).Expect(201).At("differs").ShouldBeJson("true");
        var reply = await Surgeon.CaseAsync(id);
        (reply.Text("margins.state"), reply.Text("reviews[0].code")).ShouldBe(("awaitingReadings", "permanentDiffers"));
        reply.At("permanentSections[0].differs").ShouldBeJson("true");
        (await Surgeon.PostAsync($"{path}/result", Some.Json("""{ "outcome": "clear", "reportedAt": "2026-03-07T12:00:00-05:00" }"""))).ExpectProblem(400, "reason");
    }

    // The access log is written a moment after the answer.
    private async Task OpeningWrittenAsync(string id)
    {
        for (var i = 0; i < 100 && !(await clinic.Administrator.GetAsync($"/api/cases/{id}/openings")).Body.Contains(TestClinic.OtherSurgeonEmail, StringComparison.Ordinal); i++)
        {
            await Task.Delay(50, TestContext.Current.CancellationToken);
        }
    }
}

[Collection<OnSqlite>]
public sealed class EvidenceTestsOnSqlite(SqliteClinic clinic) : EvidenceTests(clinic);

[Collection<OnPostgres>]
public sealed class EvidenceTestsOnPostgres(PostgresClinic clinic) : EvidenceTests(clinic);
