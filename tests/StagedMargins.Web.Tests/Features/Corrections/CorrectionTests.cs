using System.Text.Json.Nodes;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Features.Corrections;

/// <summary>What was entered wrongly is put right by a further entry, and nothing that was entered goes.</summary>
public abstract class CorrectionTests(TestClinic clinic)
{
    private Caller Surgeon => clinic.Surgeon;

    [Fact]
    public async Task A_layer_typed_on_the_wrong_side_is_corrected_and_its_readings_no_longer_stand()
    {
        var id = await OpenWithRimAsync("01:15", "02:00");
        var rim = Some.Rim("07:15", "08:00");
        var corrected = (await Surgeon.PostAsync($"/api/cases/{id}/stages/2/correction", Why().With("pieces", rim["pieces"]!.DeepClone()).With("blocks", rim["blocks"]!.DeepClone()))).Expect(200);
        corrected.At("pieces[0].arc").ShouldBeJson("""{ "from": "07:15", "to": "08:00" }""");
        corrected.At("blocks[0].readings[0].withdrawn").ShouldBeJson("true");
        corrected.At("blocks[0].readings[0].withdrawnReason").ShouldBeJson("\"typed wrong\"");
        corrected.Text("corrections[0].changes").ShouldBe("rim 7:15–8:00 o'clock, 2 mm wide for rim 1:15–2:00 o'clock, 2 mm wide; A 7:15–8:00 o'clock for A 1:15–2:00 o'clock");
        (await Surgeon.MarginsAsync(id)).At("peripheral.unread").ShouldBeJson("""[{ "from": "07:15", "to": "08:00" }]""");
        (await Surgeon.GetAsync($"/cases/{id}")).Expect(200).Body.ShouldContain("Stage 2 corrected on");
        (await HistoryAsync(id)).Last().ShouldStartWith("Stage 2 corrected: rim 7:15–8:00 o'clock, 2 mm wide for rim 1:15–2:00 o'clock");
        (await Surgeon.ReadAsync(id, 2, "A", Some.Clear())).Expect(201);
        (await Surgeon.MarginsAsync(id)).At("peripheral.unread").ShouldBeJson("[]");
    }

    [Fact]
    public async Task A_correction_of_the_outline_plane_and_inks_says_what_they_were()
    {
        var id = await Surgeon.OpenClearAsync();
        (await Surgeon.PostAsync($"/api/cases/{id}/stages/1/correction", Why().With("pieces", Some.Json("""{ "pieces": [ { "kind": "whole", "plane": "subcutaneousFat", "outline": { "ellipse": { "lengthMm": 15, "widthMm": 10, "axis": "12:00" } } } ] }""")["pieces"]!.DeepClone()))).Expect(200);
        (await HistoryAsync(id)).Last().ShouldStartWith("Stage 1 corrected: whole layer, 15 mm × 10 mm, long axis at 12:00 o'clock, subcutaneous fat for whole layer, 14 mm × 10 mm, long axis at 12:00 o'clock. ");

        var inked = Some.Json("""{ "blocks": [ { "label": "A", "arc": { "from": "12:00", "to": "06:00" }, "centre": true, "fromInk": "green", "toInk": "black" }, { "label": "B", "arc": { "from": "06:00", "to": "12:00" }, "centre": true } ] }""");
        (await Surgeon.PostAsync($"/api/cases/{id}/stages/1/correction", Why().With("blocks", inked["blocks"]!.DeepClone()))).Expect(200);
        (await HistoryAsync(id)).Last().ShouldContain("A 12:00–6:00 o'clock, the centre (inks green and black)");
        (await HistoryAsync(id)).Last().ShouldContain("A 12:00–6:00 o'clock, the centre (inks blue and red)");
    }

    [Fact]
    public async Task A_reading_stays_where_its_block_and_piece_stay_the_same()
    {
        var id = await Surgeon.OpenClearAsync();
        var layer = Some.WholeLayer();
        layer["blocks"]![1]!["toInk"] = "green";
        var corrected = (await Surgeon.PostAsync($"/api/cases/{id}/stages/1/correction", Why().With("blocks", layer["blocks"]!.DeepClone()))).Expect(200);
        (corrected.At("blocks[0].readings[0].withdrawn")!.GetValue<bool>(), corrected.At("blocks[1].readings[0].withdrawn")!.GetValue<bool>()).ShouldBe((false, true));
        (await Surgeon.PostAsync($"/api/cases/{id}/stages/1/correction", Why())).ExpectProblem(400, "pieces");
        (await Surgeon.PostAsync($"/api/cases/{id}/stages/1/correction", new JsonObject { ["takenAt"] = "2026-03-03T09:00:00-05:00" })).ExpectProblem(400, "reason");
        (await Surgeon.PostAsync($"/api/cases/{id}/stages/1/correction", Why().With("blocks", new JsonArray(Some.Block("Z", "12:00", "06:00").With("piece", 2))))).ExpectProblem(400, "blocks[0].piece");
    }

    [Fact]
    public async Task The_last_stage_is_withdrawn_and_its_number_is_free_again()
    {
        var id = await OpenWithRimAsync("07:15", "08:00");
        (await Surgeon.PostAsync($"/api/cases/{id}/stages/1/withdrawal", Why())).ExpectProblem(409).Text("type").ShouldEndWith("notLastStage");
        var after = (await Surgeon.PostAsync($"/api/cases/{id}/stages/2/withdrawal", Why())).Expect(200);
        (after.At("stages")!.AsArray().Count, after.Number("withdrawnStages[0].stage.number"), after.Text("withdrawnStages[0].reason")).ShouldBe((1, 2, "typed wrong"));
        after.At("withdrawnStages[0].stage.blocks[0].readings[0].withdrawn").ShouldBeJson("true");
        (await Surgeon.RecordAsync(id, Some.Rim("01:00", "02:00"))).Expect(201).Number("number").ShouldBe(2);
    }

    [Fact]
    public async Task A_withdrawn_reading_revives_no_earlier_one_and_a_positive_one_asks_for_a_review()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        var first = (await Surgeon.ReadAsync(id, 1, "A", Some.Clear())).Expect(201).Text("id");
        var second = (await Surgeon.ReadAsync(id, 1, "A", Some.Tumour("01:00", "02:00").With("amends", first).With("reason", "second look"))).Expect(201).Text("id");
        (await Surgeon.PostAsync($"/api/cases/{id}/readings/{first}/withdrawal", Why())).ExpectProblem(409).Text("type").ShouldEndWith("amended");
        (await Surgeon.PostAsync($"/api/cases/{id}/readings/{second}/withdrawal", new JsonObject())).ExpectProblem(400, "reason");
        (await Surgeon.PostAsync($"/api/cases/{id}/readings/{second}/withdrawal", Why())).Expect(200).At("withdrawn").ShouldBeJson("true");
        (await Surgeon.PostAsync($"/api/cases/{id}/readings/{second}/withdrawal", Why())).ExpectProblem(409).Text("type").ShouldEndWith("withdrawn");
        var seen = await Surgeon.CaseAsync(id);
        (seen.Text("margins.state"), seen.Text("reviews[0].code"), seen.Text("waitsFor")).ShouldBe(("awaitingReadings", "positiveWithdrawn", "reading"));
        (await Surgeon.ReadAsync(id, 1, "A", Some.Clear().With("amends", second).With("reason", "x"))).ExpectProblem(409);
        (await Surgeon.ReadAsync(id, 1, "A", Some.Clear())).Expect(201);
        (await Surgeon.ReadAsync(id, 1, "B", Some.Clear())).Expect(201);
        (await Surgeon.EndAsync(id, Some.EndCleared())).ExpectProblem(409).Text("type").ShouldEndWith("reviewsOpen");
        (await Surgeon.GetAsync($"/api/cases/{id}/map.svg")).Expect(200).Body.ShouldContain("Clear as marked, reviews open: 1");
    }

    [Fact]
    public async Task Another_patient_or_12_o_clock_asks_for_both_confirmations_again()
    {
        var id = await Surgeon.OpenCaseAsync();
        await clinic.ConfirmSiteAsync(id);
        var before = await Surgeon.CaseAsync(id);
        var reference = $"P-{Guid.NewGuid():N}";
        var after = (await Surgeon.PostAsync($"/api/cases/{id}/facts", Why().With("patientRef", reference).With("surgeonEmail", TestClinic.OtherSurgeonEmail))).Expect(200);
        (after.Text("patientRef"), after.Text("surgeonEmail"), after.At("siteConfirmed")!.GetValue<bool>()).ShouldBe((reference, TestClinic.OtherSurgeonEmail, false));
        after.Text("patientId").ShouldNotBe(before.Text("patientId"));
        var other = await Surgeon.OpenCaseAsync(Some.Case().With("patientRef", reference));
        (await Surgeon.CaseAsync(other)).Text("patientId").ShouldBe(after.Text("patientId"));
        (await Surgeon.RecordAsync(id, Some.WholeLayer())).Expect(201).Text("alerts[0].code").ShouldBe("siteNotConfirmed");
        await clinic.ConfirmSiteAsync(id);
        (await Surgeon.PostAsync($"/api/cases/{id}/facts", Why().With("twelveOClock", "toward the ear"))).Expect(200).At("siteConfirmed").ShouldBeJson("false");
        (await Surgeon.GetAsync("/")).Expect(200).Body.ShouldContain(after.Text("caseNumber"));
    }

    [Fact]
    public async Task A_closed_case_is_opened_again_and_goes_on()
    {
        var id = await Surgeon.OpenClearAsync();
        (await Surgeon.PostAsync($"/api/cases/{id}/reopening", Why())).ExpectProblem(409).Text("type").ShouldEndWith("caseOpen");
        (await Surgeon.EndAsync(id, Some.EndCleared())).Expect(200);
        var open = (await Surgeon.PostAsync($"/api/cases/{id}/reopening", Why())).Expect(200);
        (open.Text("status"), open.At("outcome"), open.Text("endings[0].reopenedReason"), open.Text("endings[0].outcome")).ShouldBe(("open", null, "typed wrong", "cleared"));
        (await Surgeon.RecordAsync(id, Some.Rim("01:00", "02:00"))).Expect(201);
        (await Surgeon.ReadAsync(id, 2, "A", Some.Clear())).Expect(201);
        (await Surgeon.EndAsync(id, Some.EndCleared())).Expect(200).At("endings")!.AsArray().Count.ShouldBe(2);
    }

    [Fact]
    public async Task Several_readings_are_signed_all_or_none_and_another_surgeon_may_take_over()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        var first = (await clinic.Histotech.ReadAsync(id, 1, "A", Some.Clear())).Expect(201).Text("id");
        var second = (await clinic.Histotech.ReadAsync(id, 1, "B", Some.Clear())).Expect(201).Text("id");
        var third = (await clinic.Histotech.ReadAsync(id, 1, "B", Some.Clear().With("amends", second).With("reason", "slip"))).Expect(201).Text("id");
        (await SignAsync(Surgeon, id, first, second)).ExpectProblem(409).Body.ShouldContain(second);
        (await Surgeon.CaseAsync(id)).Number("unsignedReadings").ShouldBe(2);
        (await SignAsync(clinic.OtherSurgeon, id, first, third)).ExpectProblem(409).Text("type").ShouldEndWith("notTheReader");
        (await Surgeon.PostAsync($"/api/cases/{id}/countersignatures", new JsonObject { ["readingIds"] = new JsonArray() })).ExpectProblem(400, "readingIds");
        (await clinic.OtherSurgeon.PostAsync($"/api/cases/{id}/readings/{first}/countersign", Some.Json("""{ "takesOver": true }"""))).Expect(200).Text("signedBy").ShouldBe(TestClinic.OtherSurgeonEmail);
        (await SignAsync(Surgeon, id, third)).Expect(200).Text("[0].signedBy").ShouldBe(TestClinic.SurgeonEmail);
        (await Surgeon.CaseAsync(id)).Number("unsignedReadings").ShouldBe(0);
    }

    [Fact]
    public async Task A_permanent_section_makes_unread_the_place_it_names_and_no_other()
    {
        var id = await Surgeon.OpenClearAsync();
        (await Surgeon.EndAsync(id, Some.EndCleared())).Expect(200);
        var path = $"/api/cases/{id}/stages/1/blocks/A/permanent-section";
        var section = (await Surgeon.PostAsync(path, new JsonObject())).Expect(201).Number("id");
        var result = Some.Tumour("01:00", "02:00").Without("readerEmail").Without("readAt").With("reportedBy", "Dr. Hollowmere").With("laboratory", "the invented laboratory");
        var said = (await Surgeon.PostAsync($"{path}s/{section}/result", result)).Expect(201);
        (said.Text("reportedBy"), said.Text("laboratory"), said.At("differs")!.GetValue<bool>()).ShouldBe(("Dr. Hollowmere", "the invented laboratory", true));
        (await Surgeon.PostAsync($"{path}s/{section + 1}/result", result)).ExpectProblem(404);
        var seen = await Surgeon.CaseAsync(id);
        seen.At("margins.peripheral.unread").ShouldBeJson("""[{ "from": "01:00", "to": "02:00" }]""");
        (seen.Text("status"), seen.Text("outcome"), seen.At("clearedNow")!.GetValue<bool>(), seen.Number("openReviews"), seen.At("recall")!.GetValue<bool>()).ShouldBe(("ended", "cleared", false, 2, true));
        (await Surgeon.GetAsync($"/api/cases/{id}/map.svg")).Expect(200).Body.ShouldContain("Closed as clear; not clear now.");
        await Surgeon.SettleAsync(id, "A");
        (await Surgeon.CaseAsync(id)).At("clearedNow").ShouldBeJson("true");
        (await Surgeon.MarginsAsync(id)).Number("openReviews").ShouldBe(0);
    }

    [Fact]
    public async Task Two_people_correct_one_after_the_other_or_are_told_to_read_again()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        var version = (await Surgeon.CaseAsync(id)).Header("ETag")!;
        var replies = await Task.WhenAll(
            Surgeon.PostAsync($"/api/cases/{id}/stages/1/correction", Why().With("takenAt", "2026-03-03T09:00:00-05:00"), ("If-Match", version)),
            clinic.OtherSurgeon.PostAsync($"/api/cases/{id}/stages/1/withdrawal", Why(), ("If-Match", version)));
        replies.Select(reply => reply.Status).Order().ShouldBe([200, 412]);
    }

    [Fact]
    public async Task A_case_is_seen_as_it_was_before_its_correction()
    {
        var id = await OpenWithRimAsync("01:15", "02:00");
        var version = (await Surgeon.CaseAsync(id)).Header("ETag")!.Trim('"');
        (await Surgeon.PostAsync($"/api/cases/{id}/stages/2/withdrawal", Why())).Expect(200);
        (await Surgeon.GetAsync($"/api/cases/{id}?asOf={version}")).Expect(200).At("stages")!.AsArray().Count.ShouldBe(2);
    }

    [Fact]
    public async Task A_second_case_follows_the_one_whose_tumour_came_back()
    {
        var first = await Surgeon.OpenCaseAsync();
        (await Surgeon.PostAsync("/api/cases", Some.Case().With("followsCase", first))).Expect(201).Text("followsCase").ShouldBe(first);
        (await Surgeon.PostAsync("/api/cases", Some.Case().With("followsCase", Guid.NewGuid().ToString()))).ExpectProblem(400, "followsCase");
    }

    private static JsonObject Why() => Some.Json("""{ "reason": "typed wrong" }""");

    private static Task<Reply> SignAsync(Caller who, string id, params string[] readings) =>
        who.PostAsync($"/api/cases/{id}/countersignatures", new JsonObject { ["readingIds"] = new JsonArray([.. readings.Select(reading => JsonValue.Create(reading))]) });

    private async Task<string> OpenWithRimAsync(string from, string to)
    {
        var id = await Surgeon.OpenClearAsync();
        (await Surgeon.RecordAsync(id, Some.Rim(from, to))).Expect(201);
        (await Surgeon.ReadAsync(id, 2, "A", Some.Clear())).Expect(201);
        return id;
    }

    private async Task<IEnumerable<string>> HistoryAsync(string id) =>
        (await Surgeon.GetAsync($"/api/cases/{id}/history")).Expect(200).At("entries")!.AsArray().Select(entry => entry!["sentence"]!.GetValue<string>());
}

[Collection<OnSqlite>]
public sealed class CorrectionTestsOnSqlite(SqliteClinic clinic) : CorrectionTests(clinic);

[Collection<OnPostgres>]
public sealed class CorrectionTestsOnPostgres(PostgresClinic clinic) : CorrectionTests(clinic);
