using System.Text.Json.Nodes;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Features.Readings;

public abstract class ReadingTests(TestClinic clinic)
{
    private Caller Surgeon => clinic.Surgeon;

    [Fact]
    public async Task A_reading_gives_every_finding_as_a_clock_arc()
    {
        var id = await OpenMirroredAsync(mirrored: true);
        var reading = (await Surgeon.ReadAsync(id, 1, "B", Some.Json($$"""
            { "outcome": "tumour", "readerEmail": "{{TestClinic.SurgeonEmail}}", "readAt": "2026-03-03T09:52:00-05:00",
              "findings": [ { "kind": "tumour", "margin": "peripheral", "arc": { "from": "07:30", "to": "09:00" } },
                            { "kind": "tumour", "margin": "deep", "along": [0.25, 0.5], "mirrored": true },
                            { "kind": "inflammation", "margin": "deep", "centre": true } ],
              "amends": null, "reason": null, "note": null }
            """))).Expect(201);
        reading.Header("Location").ShouldBe($"/api/cases/{id}/stages/1");
        reading.Header("ETag").ShouldBe("\"3\"");
        reading.Text("outcome").ShouldBe("tumour");
        reading.Text("sentence").ShouldBe(
            "Stage 1, block B: tumour at the peripheral margin, 7:30 to 9 o'clock; tumour at the deep margin, 9 to 10:30 o'clock; inflammation (may hide tumour) at the deep margin, the centre.");
        reading.Text("readerEmail").ShouldBe(TestClinic.SurgeonEmail);
        reading.Text("countersignedBy").ShouldBe(TestClinic.SurgeonEmail);
        reading.At("amendedBy").ShouldBeNull();
        reading.At("findings[0].arc").ShouldBeJson("""{ "from": "07:30", "to": "09:00" }""");
        reading.At("findings[1].arc").ShouldBeJson("""{ "from": "09:00", "to": "10:30" }""");
        reading.At("findings[1].along").ShouldBeJson("[0.25, 0.5]");
        reading.At("findings[2].arc").ShouldBeNull();
        reading.At("findings[2].centre").ShouldBeJson("true");

        var margins = await Surgeon.MarginsAsync(id);
        margins.At("peripheral.outstanding").ShouldBeJson("""[{ "from": "07:30", "to": "09:00" }]""");
        margins.At("deep.outstanding").ShouldBeJson("""[{ "from": "09:00", "to": "10:30" }]""");
        margins.At("deep.cautionCentre").ShouldBeJson("true");
        margins.At("deep.outstandingCentre").ShouldBeJson("false");
        (await Surgeon.CaseAsync(id)).At("stages[0].blocks[1].readings").ShouldBeJson($"[{reading.Body}]");
    }

    // The worked figures of the domain description: block 06:00–12:00.
    [Theory]
    [InlineData("[0.25, 0.50]", false, "07:30", "09:00")]
    [InlineData("[0.25, 0.50]", true, "09:00", "10:30")]
    [InlineData("[0, 1]", true, "06:00", "12:00")]
    [InlineData("[0.0001, 0.0002]", false, "06:00", "06:01")]
    [InlineData("[0.3334, 0.3335]", false, "08:00", "08:01")]
    [InlineData("[0.3334, 0.3335]", true, "09:59", "10:00")]
    public async Task A_place_along_the_slide_is_rounded_outward_on_the_face(string along, bool mirrored, string from, string to)
    {
        var id = await OpenMirroredAsync(mirrored);
        var reading = Some.Tumour("07:00", "08:00");
        reading["findings"]![0] = new JsonObject { ["kind"] = "perineuralInvasion", ["margin"] = "peripheral", ["along"] = JsonNode.Parse(along), ["mirrored"] = mirrored };
        (await Surgeon.ReadAsync(id, 1, "B", reading)).Expect(201).At("findings[0].arc").ShouldBeJson($$"""{ "from": "{{from}}", "to": "{{to}}" }""");
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task A_finding_that_says_otherwise_than_its_block_is_refused(bool mirrored)
    {
        var id = await OpenMirroredAsync(mirrored);
        var reading = Some.Tumour("07:00", "08:00");
        reading["findings"]![0] = new JsonObject { ["kind"] = "tumour", ["margin"] = "deep", ["along"] = new JsonArray(0.25, 0.5), ["mirrored"] = !mirrored };
        (await Surgeon.ReadAsync(id, 1, "B", reading)).ExpectProblem(400, "findings[0].mirrored");
    }

    private async Task<string> OpenMirroredAsync(bool mirrored)
    {
        var id = await Surgeon.OpenCaseAsync();
        var layer = Some.WholeLayer();
        layer["blocks"]![1]!["mirrored"] = mirrored;
        (await Surgeon.RecordAsync(id, layer)).Expect(201);
        return id;
    }

    [Fact]
    public async Task An_amendment_says_what_it_amends_and_why_and_both_readings_stay()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        var first = (await Surgeon.ReadAsync(id, 1, "B", Some.Tumour("07:30", "09:00"))).Expect(201).Text("id");
        (await Surgeon.ReadAsync(id, 1, "B", Some.Clear())).ExpectProblem(409);
        (await Surgeon.ReadAsync(id, 1, "B", Some.Clear().With("amends", first))).ExpectProblem(409);
        (await Surgeon.ReadAsync(id, 1, "B", Some.Clear().With("amends", Guid.NewGuid().ToString()).With("reason", "other slide"))).ExpectProblem(409);
        var amendment = (await Surgeon.ReadAsync(id, 1, "B", Some.Clear().With("amends", first).With("reason", "a follicle, not tumour"))).Expect(201);
        amendment.Text("amends").ShouldBe(first);
        amendment.Text("reason").ShouldBe("a follicle, not tumour");

        var readings = (await Surgeon.CaseAsync(id)).At("stages[0].blocks[1].readings")!.AsArray();
        readings.Count.ShouldBe(2);
        readings[0].ShouldNotBeNull().At("amendedBy").ShouldBeJson($"\"{amendment.Text("id")}\"");
        readings[0].ShouldNotBeNull().At("outcome").ShouldBeJson("\"tumour\"");
        (await Surgeon.MarginsAsync(id)).At("peripheral.outstanding").ShouldBeJson("[]");
    }

    [Fact]
    public async Task The_first_reading_of_a_block_amends_nothing()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        (await Surgeon.ReadAsync(id, 1, "A", Some.Clear().With("amends", Guid.NewGuid().ToString()).With("reason", "why not"))).ExpectProblem(409);
    }

    [Fact]
    public async Task A_histotechs_draft_counts_at_once_and_waits_for_the_named_reader()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        var draft = (await clinic.Histotech.ReadAsync(id, 1, "A", Some.Clear())).Expect(201);
        draft.Text("readerEmail").ShouldBe(TestClinic.SurgeonEmail);
        draft.Text("recordedBy").ShouldBe(TestClinic.HistotechEmail);
        draft.At("countersignedBy").ShouldBeNull();
        draft.At("toBeCountersigned").ShouldBeJson("true");
        (await Surgeon.MarginsAsync(id)).At("peripheral.unread").ShouldBeJson("""[{ "from": "06:00", "to": "12:00" }]""");
        (await Surgeon.ReadAsync(id, 1, "B", Some.Clear())).Expect(201);
        (await Surgeon.MarginsAsync(id)).Text("state").ShouldBe("cleared");

        var refused = (await Surgeon.EndAsync(id, Some.EndCleared())).ExpectProblem(409);
        refused.Text("detail").ShouldContain("stage 1 block A");

        var path = $"/api/cases/{id}/stages/1/blocks/A/readings/{draft.Text("id")}/countersign";
        (await clinic.Histotech.PostAsync(path, new JsonObject())).ExpectProblem(403);
        (await clinic.OtherSurgeon.PostAsync(path, new JsonObject())).ExpectProblem(409);
        (await Surgeon.CaseAsync(id)).At("toBeCountersigned")!.AsArray().ShouldHaveSingleItem();
        var signed = (await Surgeon.PostAsync(path, new JsonObject())).Expect(200);
        signed.Text("countersignedBy").ShouldBe(TestClinic.SurgeonEmail);
        signed.At("toBeCountersigned").ShouldBeJson("false");
        (await Surgeon.PostAsync(path, new JsonObject())).ExpectProblem(409);
        (await Surgeon.EndAsync(id, Some.EndCleared())).Expect(200);
    }

    [Fact]
    public async Task A_reading_that_one_surgeon_writes_down_for_another_waits_for_that_other()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        var written = (await Surgeon.ReadAsync(id, 1, "A", Some.Clear().With("readerEmail", TestClinic.OtherSurgeonEmail))).Expect(201);
        written.At("countersignedBy").ShouldBeNull();
        var path = $"/api/cases/{id}/readings/{written.Text("id")}/countersign";
        (await Surgeon.PostAsync(path, null)).ExpectProblem(409);
        (await clinic.OtherSurgeon.PostAsync(path, null)).Expect(200);
    }

    [Fact]
    public async Task Only_the_reading_that_counts_is_countersigned()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        var draft = (await clinic.Histotech.ReadAsync(id, 1, "A", Some.Clear())).Expect(201).Text("id");
        (await Surgeon.ReadAsync(id, 1, "A", Some.Clear().With("amends", draft).With("reason", "read again"))).Expect(201);
        (await Surgeon.PostAsync($"/api/cases/{id}/readings/{draft}/countersign", null)).ExpectProblem(409);
        (await Surgeon.PostAsync($"/api/cases/{id}/readings/{Guid.NewGuid()}/countersign", null)).ExpectProblem(404);
    }

    [Fact]
    public async Task A_histotech_puts_right_their_own_unsigned_reading_alone_and_names_the_reader()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        var reading = (await clinic.Histotech.ReadAsync(id, 1, "A", Some.Clear())).Expect(201).Text("id");
        (await clinic.Histotech.ReadAsync(id, 1, "A", Some.Clear().With("amends", reading).With("reason", "slip of the pen"))).Expect(201);
        var signed = (await Surgeon.ReadAsync(id, 1, "B", Some.Clear())).Expect(201).Text("id");
        (await clinic.Histotech.ReadAsync(id, 1, "B", Some.Clear().With("amends", signed).With("reason", "slip of the pen"))).ExpectProblem(403);
        (await clinic.Histotech.PostAsync($"/api/cases/{id}/readings/{signed}/withdrawal", Some.Json("""{ "reason": "slip" }"""))).ExpectProblem(403);
        (await clinic.Histotech.ReadAsync(id, 1, "B", Some.Clear().Without("readerEmail"))).ExpectProblem(400, "readerEmail");
        (await clinic.Histotech.ReadAsync(id, 1, "B", Some.Clear().With("readerEmail", TestClinic.OtherHistotechEmail))).ExpectProblem(400, "readerEmail");
    }

    [Fact]
    public async Task An_unreadable_block_stays_unread_until_it_is_read_again()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        (await Surgeon.ReadAsync(id, 1, "A", Some.Clear())).Expect(201);
        var torn = (await Surgeon.ReadAsync(id, 1, "B", Some.Clear().With("outcome", "unreadable").With("note", "folded section"))).Expect(201);
        torn.Text("note").ShouldBe("folded section");
        (await Surgeon.MarginsAsync(id)).Text("state").ShouldBe("awaitingReadings");
        (await Surgeon.ReadAsync(id, 1, "B", Some.Clear().With("amends", torn.Text("id")).With("reason", "recut"))).Expect(201);
        (await Surgeon.MarginsAsync(id)).Text("state").ShouldBe("cleared");
    }

    [Fact]
    public async Task A_block_that_is_not_there_is_not_read()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        (await Surgeon.ReadAsync(id, 1, "Z", Some.Clear())).ExpectProblem(404);
        (await Surgeon.ReadAsync(id, 9, "A", Some.Clear())).ExpectProblem(404);
        (await Surgeon.ReadAsync(id, 1, "a", Some.Clear())).ExpectProblem(404);
    }
}

[Collection<OnSqlite>]
public sealed class ReadingTestsOnSqlite(SqliteClinic clinic) : ReadingTests(clinic);

[Collection<OnPostgres>]
public sealed class ReadingTestsOnPostgres(PostgresClinic clinic) : ReadingTests(clinic);
