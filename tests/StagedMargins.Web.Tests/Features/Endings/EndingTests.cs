using System.Globalization;
using System.Text.Json.Nodes;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Features.Endings;

public abstract class EndingTests(TestClinic clinic)
{
    private Caller Surgeon => clinic.Surgeon;

    [Fact]
    public async Task A_cleared_case_ends_with_its_repair_and_measured_defect()
    {
        var id = await Surgeon.OpenClearAsync();
        var end = Some.EndCleared().With("measuredDefect", JsonNode.Parse("""{ "lengthMm": 14.5, "widthMm": 10, "plane": "fascia" }"""));
        var ended = (await Surgeon.EndAsync(id, end)).Expect(200);
        ended.Text("status").ShouldBe("ended");
        ended.Text("outcome").ShouldBe("cleared");
        ended.Text("endedAt").ShouldBe("2026-03-03T12:00:00-05:00");
        ended.Text("ending.repair").ShouldBe("flap");
        ended.Text("ending.recordedBy").ShouldBe(TestClinic.SurgeonEmail);
        ended.At("measuredDefect.lengthMm").ShouldBeJson("14.5");
        ended.Text("measuredDefect.plane").ShouldBe("fascia");
        ended.At("defectQuestion").ShouldBeNull();
        ended.At("recall").ShouldBeJson("false");
        ended.Header("ETag").ShouldBe("\"5\"");
        (await Surgeon.CaseAsync(id)).Json.ShouldBeJson(ended.Body);
    }

    [Fact]
    public async Task A_case_without_tissue_is_not_cleared()
    {
        var id = await Surgeon.OpenCaseAsync();
        (await Surgeon.EndAsync(id, Some.EndCleared())).ExpectProblem(409);
    }

    // The computed defect is 14 × 10 mm; the question stands only beyond a quarter of it either way.
    [Theory]
    [InlineData("17.5", "10", false)]
    [InlineData("17.501", "10", true)]
    [InlineData("10.5", "10", false)]
    [InlineData("10.499", "10", true)]
    [InlineData("14", "12.5", false)]
    [InlineData("14", "12.501", true)]
    [InlineData("14", "7.499", true)]
    public async Task A_measured_defect_is_questioned_where_it_differs_by_more_than_a_quarter(string length, string width, bool asks)
    {
        var id = await Surgeon.OpenClearAsync();
        var measured = new JsonObject { ["lengthMm"] = decimal.Parse(length, CultureInfo.InvariantCulture), ["widthMm"] = decimal.Parse(width, CultureInfo.InvariantCulture) };
        var ended = (await Surgeon.EndAsync(id, Some.EndCleared().With("measuredDefect", measured))).Expect(200);
        (ended.At("defectQuestion") is not null).ShouldBe(asks);
    }

    [Theory]
    [InlineData("reason")]
    [InlineData("plan")]
    public async Task Stopping_with_tumour_needs_its_reason_and_plan(string missing)
    {
        var id = await Surgeon.OpenWithLayerAsync();
        (await Surgeon.ReadAsync(id, 1, "A", Some.Tumour("01:00", "02:00"))).Expect(201);
        var end = Some.Json("""{ "outcome": "stoppedWithTumour", "reason": "patient asked to stop", "plan": "radiation opinion" }""");
        (await Surgeon.EndAsync(id, end.With(missing, "  "))).ExpectProblem(400, missing);
        (await Surgeon.EndAsync(id, end.Without(missing))).ExpectProblem(400, missing);
        var ended = (await Surgeon.EndAsync(id, end.With(missing, "said now"))).Expect(200);
        ended.Text("outcome").ShouldBe("stoppedWithTumour");
        ended.Text($"ending.{missing}").ShouldBe("said now");
    }

    [Fact]
    public async Task Continuing_later_needs_a_date()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        (await Surgeon.EndAsync(id, Some.Json("""{ "outcome": "continuesLater" }"""))).ExpectProblem(400, "continuesOn");
        var ended = (await Surgeon.EndAsync(id, Some.Json("""{ "outcome": "continuesLater", "continuesOn": "2026-03-10" }"""))).Expect(200);
        (ended.Text("status"), ended.Text("continuesOn"), ended.At("outcome"), ended.At("ending")).ShouldBe(("paused", "2026-03-10", null, null));
        (await Surgeon.RecordAsync(id, Some.Rim("01:00", "02:00").With("reasonForUnread", "the patient came back"))).Expect(201);
        (await Surgeon.CaseAsync(id)).Text("status").ShouldBe("open");
    }

    [Fact]
    public async Task An_ended_case_takes_amendments_and_nothing_new()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        var first = (await Surgeon.ReadAsync(id, 1, "A", Some.Clear())).Expect(201).Text("id");
        (await Surgeon.EndAsync(id, Some.Json("""{ "outcome": "stoppedNotCleared", "reason": "unwell", "plan": "next week" }"""))).Expect(200);
        var written = await clinic.Database.WrittenAsync();
        (await Surgeon.EndAsync(id, Some.Json("""{ "outcome": "continuesLater", "continuesOn": "2026-03-10" }"""))).ExpectProblem(409);
        (await Surgeon.RecordAsync(id, Some.Rim("01:00", "02:00").With("reasonForUnread", "no time"))).ExpectProblem(409);
        (await Surgeon.PreviewAsync(id, Some.Rim("01:00", "02:00"))).ExpectProblem(409);
        (await Surgeon.PostAsync($"/api/cases/{id}/stages/1/blocks", Some.Block("C", "01:00", "02:00"))).ExpectProblem(409);
        (await Surgeon.PostAsync($"/api/cases/{id}/stages/1/times", Some.Json("""{ "receivedAt": "2026-03-03T09:14:00-05:00" }"""))).ExpectProblem(409);
        (await clinic.Database.WrittenAsync()).ShouldBe(written);
        (await Surgeon.ReadAsync(id, 1, "A", Some.Tumour("01:00", "02:00").With("amends", first).With("reason", "seen on permanent section"))).Expect(201);
    }

    [Fact]
    public async Task An_amendment_that_unclears_a_closed_case_raises_a_recall_that_stays()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        var first = (await Surgeon.ReadAsync(id, 1, "A", Some.Clear())).Expect(201).Text("id");
        (await Surgeon.ReadAsync(id, 1, "B", Some.Clear())).Expect(201);
        (await Surgeon.EndAsync(id, Some.EndCleared())).Expect(200);

        var harmless = (await Surgeon.ReadAsync(id, 1, "A", Some.Clear().With("amends", first).With("reason", "note added").With("note", "scar at 2"))).Expect(201).Text("id");
        (await Surgeon.CaseAsync(id)).At("recall").ShouldBeJson("false");
        var tumour = (await Surgeon.ReadAsync(id, 1, "A", Some.Tumour("01:00", "02:00").With("amends", harmless).With("reason", "second look"))).Expect(201).Text("id");
        var recalled = await Surgeon.CaseAsync(id);
        recalled.At("recall").ShouldBeJson("true");
        recalled.Text("outcome").ShouldBe("cleared");
        recalled.Text("margins.state").ShouldBe("tumourOutstanding");
        (await Surgeon.GetAsync("/api/cases?status=ended&limit=200")).At("items")!.AsArray()
            .Single(item => item!["id"]!.GetValue<string>() == id)!["recall"].ShouldBeJson("true");

        (await Surgeon.ReadAsync(id, 1, "A", Some.Clear().With("amends", tumour).With("reason", "third look"))).Expect(201);
        (await Surgeon.CaseAsync(id)).At("recall").ShouldBeJson("true");
    }

    [Fact]
    public async Task An_unreadable_amendment_unclears_a_closed_case_too()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        var first = (await Surgeon.ReadAsync(id, 1, "A", Some.Clear())).Expect(201).Text("id");
        (await Surgeon.ReadAsync(id, 1, "B", Some.Clear())).Expect(201);
        (await Surgeon.EndAsync(id, Some.EndCleared())).Expect(200);
        (await Surgeon.ReadAsync(id, 1, "A", Some.Clear().With("outcome", "unreadable").With("amends", first).With("reason", "wrong slide was read"))).Expect(201);
        (await Surgeon.CaseAsync(id)).At("recall").ShouldBeJson("true");
    }

    [Fact]
    public async Task A_corrected_measurement_says_why_and_the_last_one_holds()
    {
        var id = await Surgeon.OpenClearAsync();
        var path = $"/api/cases/{id}/measured-defect";
        (await Surgeon.PostAsync(path, Some.Json("""{ "lengthMm": 15, "widthMm": 11 }"""))).Expect(200).At("measuredDefect.lengthMm").ShouldBeJson("15");
        (await Surgeon.PostAsync(path, Some.Json("""{ "lengthMm": 14, "widthMm": 10 }"""))).ExpectProblem(400, "reason");
        var corrected = (await Surgeon.PostAsync(path, Some.Json("""{ "lengthMm": 14, "widthMm": 10, "reason": "ruler misread" }"""))).Expect(200);
        corrected.At("measuredDefect.lengthMm").ShouldBeJson("14");
        corrected.Text("measuredDefect.reason").ShouldBe("ruler misread");
    }

    [Fact]
    public async Task A_measurement_at_the_end_that_corrects_an_earlier_one_says_why_too()
    {
        var id = await Surgeon.OpenClearAsync();
        (await Surgeon.PostAsync($"/api/cases/{id}/measured-defect", Some.Json("""{ "lengthMm": 15, "widthMm": 11 }"""))).Expect(200);
        var end = Some.EndCleared().With("measuredDefect", JsonNode.Parse("""{ "lengthMm": 14, "widthMm": 10 }"""));
        (await Surgeon.EndAsync(id, end)).ExpectProblem(400, "measuredDefect.reason");
        (await Surgeon.EndAsync(id, end.With("measuredDefect.reason", "ruler misread"))).Expect(200).At("measuredDefect.lengthMm").ShouldBeJson("14");
    }

    [Fact]
    public async Task Without_tissue_there_is_no_defect_to_measure()
    {
        var id = await Surgeon.OpenCaseAsync();
        (await Surgeon.PostAsync($"/api/cases/{id}/measured-defect", Some.Json("""{ "lengthMm": 15, "widthMm": 11 }"""))).ExpectProblem(409);
        var end = Some.Json("""{ "outcome": "stoppedNotCleared", "reason": "unwell", "plan": "next week", "measuredDefect": { "lengthMm": 15, "widthMm": 11 } }""");
        (await Surgeon.EndAsync(id, end)).ExpectProblem(409);
    }

    [Fact]
    public async Task A_reading_left_unsigned_may_be_signed_after_the_end()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        var draft = (await clinic.Histotech.ReadAsync(id, 1, "A", Some.Clear())).Expect(201).Text("id");
        (await Surgeon.EndAsync(id, Some.Json("""{ "outcome": "continuesLater", "continuesOn": "2026-03-10" }"""))).Expect(200);
        (await Surgeon.PostAsync($"/api/cases/{id}/readings/{draft}/countersign", null)).Expect(200);
    }
}

[Collection<OnSqlite>]
public sealed class EndingTestsOnSqlite(SqliteClinic clinic) : EndingTests(clinic);

[Collection<OnPostgres>]
public sealed class EndingTestsOnPostgres(PostgresClinic clinic) : EndingTests(clinic);
