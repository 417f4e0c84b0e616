using System.Text.Json.Nodes;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Features.Stages;

public abstract class StageTests(TestClinic clinic)
{
    private Caller Surgeon => clinic.Surgeon;

    [Fact]
    public async Task A_stage_is_recorded_at_a_place_of_its_own_where_it_reads_the_same()
    {
        var id = await Surgeon.OpenCaseAsync();
        var stage = (await clinic.Histotech.RecordAsync(id, Some.WholeLayer())).Expect(201);
        stage.Header("Location").ShouldBe($"/api/cases/{id}/stages/1");
        stage.Header("ETag").ShouldBe("\"2\"");
        stage.Number("number").ShouldBe(1);
        stage.Text("takenAt").ShouldBe("2026-03-03T09:10:00-05:00");
        stage.Text("recordedBy").ShouldBe(TestClinic.HistotechEmail);
        var sent = Some.WholeLayer();
        stage.At("pieces[0].kind").ShouldBeJson("\"whole\"");
        stage.At("pieces[0].outline.ellipse").ShouldBeJson(sent.At("pieces[0].outline.ellipse")!.ToJsonString());
        foreach (var field in new[] { "label", "arc", "centre", "fromInk", "toInk" })
        {
            stage.At($"blocks[1].{field}").ShouldBeJson(sent.At($"blocks[1].{field}")!.ToJsonString());
        }

        (await Surgeon.GetAsync(stage.Header("Location")!)).Expect(200).Json.ShouldBeJson(stage.Body);
        (await Surgeon.CaseAsync(id)).At("stages").ShouldBeJson($"[{stage.Body}]");
    }

    [Fact]
    public async Task A_traced_outline_comes_back_point_by_point()
    {
        var id = await Surgeon.OpenCaseAsync();
        var layer = Some.WholeLayer();
        layer["pieces"]![0]!["outline"] = JsonNode.Parse("""{ "trace": [[-5.125, -4], [5, -4.001], [6.5, 3], [0, 7], [-6, 3]] }""");
        (await Surgeon.RecordAsync(id, layer)).Expect(201);
        (await Surgeon.CaseAsync(id)).At("stages[0].pieces[0].outline.trace").ShouldBeJson("[[-5.125, -4], [5, -4.001], [6.5, 3], [0, 7], [-6, 3]]");

        // Area by the shoelace rule over those five corners.
        (await Surgeon.MarginsAsync(id)).At("defect.areaMm2")!.GetValue<double>().ShouldBe(104.193, 0.005 * 104);
    }

    [Fact]
    public async Task Every_kind_of_later_piece_is_taken()
    {
        var id = await Surgeon.OpenClearAsync();
        var layer = Some.Json("""
            { "takenAt": "2026-03-03T10:40:00-05:00",
              "pieces": [ { "kind": "rim", "arc": { "from": "01:00", "to": "02:00" }, "widthMm": 2 },
                          { "kind": "base", "arc": null, "centre": true, "plane": "subcutaneousFat" },
                          { "kind": "base", "arc": { "from": "03:00", "to": "04:00" } },
                          { "kind": "rimAndBase", "arc": { "from": "06:00", "to": "07:00" }, "centre": false, "widthMm": 1.5, "plane": "fascia" } ],
              "blocks": [ { "label": "A", "arc": { "from": "01:00", "to": "02:00" } },
                          { "label": "B", "arc": null, "centre": true },
                          { "label": "C", "arc": { "from": "03:00", "to": "04:00" } },
                          { "label": "D", "arc": { "from": "06:00", "to": "07:00" } } ] }
            """);
        var stage = (await Surgeon.RecordAsync(id, layer)).Expect(201);
        stage.At("pieces")!.AsArray().Select(piece => piece!["kind"]!.GetValue<string>()).ShouldBe(["rim", "base", "base", "rimAndBase"]);
        var margins = await Surgeon.MarginsAsync(id);
        margins.At("peripheral.unread").ShouldBeJson("""[{ "from": "01:00", "to": "02:00" }, { "from": "06:00", "to": "07:00" }]""");
        margins.At("deep.unread").ShouldBeJson("""[{ "from": "01:00", "to": "02:00" }, { "from": "03:00", "to": "04:00" }, { "from": "06:00", "to": "07:00" }]""");
        margins.At("deep.unreadCentre").ShouldBeJson("true");
        margins.Text("defect.plane").ShouldBe("fascia");
    }

    [Fact]
    public async Task A_rehearsal_says_what_a_layer_would_give_and_writes_nothing()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        (await Surgeon.ReadAsync(id, 1, "A", Some.Clear())).Expect(201);
        (await Surgeon.ReadAsync(id, 1, "B", Some.Tumour("07:30", "09:00"))).Expect(201);
        var before = await clinic.Database.WrittenAsync();

        var rehearsal = (await clinic.Histotech.PreviewAsync(id, Some.Rim("07:45", "09:15"))).Expect(200);
        rehearsal.Text("alerts[0].code").ShouldBe("leftBehind");
        rehearsal.At("alerts[0].arcs").ShouldBeJson("""[{ "from": "07:30", "to": "07:45" }]""");
        rehearsal.At("margins.peripheral.outstanding").ShouldBeJson("""[{ "from": "07:30", "to": "07:45" }]""");
        rehearsal.At("margins.peripheral.unread").ShouldBeJson("""[{ "from": "07:45", "to": "09:15" }]""");
        (await clinic.Database.WrittenAsync()).ShouldBe(before);

        var recorded = (await Surgeon.RecordAsync(id, Some.Rim("07:45", "09:15"))).Expect(201);
        recorded.At("alerts").ShouldBeJson(rehearsal.At("alerts")!.ToJsonString());
        (await Surgeon.MarginsAsync(id)).Json.ShouldBeJson(rehearsal.At("margins")!.ToJsonString());
    }

    [Fact]
    public async Task Each_alert_is_said_where_its_rule_holds()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        (await Surgeon.ReadAsync(id, 1, "A", Some.Clear())).Expect(201);
        (await Surgeon.ReadAsync(id, 1, "B", Some.Tumour("07:30", "09:00"))).Expect(201);
        async Task<string> AlertsAsync(JsonObject layer) => string.Join("; ", (await Surgeon.PreviewAsync(id, layer)).Expect(200).At("alerts")!.AsArray()
            .Select(alert => $"{alert!["code"]} {alert["margin"]} {string.Join(',', alert["arcs"]!.AsArray().Select(arc => $"{arc!["from"]}-{arc["to"]}"))}"));

        (await AlertsAsync(Some.Rim("07:15", "09:15"))).ShouldBe("");
        (await AlertsAsync(Some.Rim("07:45", "09:15"))).ShouldBe("leftBehind peripheral 07:30-07:45");
        (await AlertsAsync(Some.Rim("07:21", "09:15"))).ShouldBe("thinOverlap peripheral 07:15-07:21");
        (await AlertsAsync(Some.Rim("07:20", "09:15"))).ShouldBe("");
        (await AlertsAsync(Some.Rim("07:15", "09:45"))).ShouldBe("beyondTarget peripheral 09:15-09:45");
        var halfMapped = Some.Rim("07:15", "09:15");
        halfMapped["blocks"]![0]!["arc"]!["to"] = "08:30";
        (await AlertsAsync(halfMapped)).ShouldBe("unmapped peripheral 08:30-09:15; unmapped deep 08:30-09:15");
    }

    [Fact]
    public async Task An_unread_stage_lets_the_next_layer_follow_only_with_a_reason_which_is_kept()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        (await Surgeon.ReadAsync(id, 1, "A", Some.Clear())).Expect(201);
        var refused = (await Surgeon.RecordAsync(id, Some.Rim("07:00", "08:00"))).ExpectProblem(409);
        refused.At("arcs").ShouldBeJson("""
            [{ "why": "unread", "margin": "peripheral", "arcs": [{ "from": "06:00", "to": "07:00" }, { "from": "08:00", "to": "12:00" }], "centre": false },
             { "why": "unread", "margin": "deep", "arcs": [{ "from": "06:00", "to": "12:00" }], "centre": true }]
            """);
        (await Surgeon.RecordAsync(id, Some.Rim("07:00", "08:00").With("reasonForUnread", "   "))).ExpectProblem(409);
        var recorded = (await Surgeon.RecordAsync(id, Some.Rim("07:00", "08:00").With("reasonForUnread", "block B was lost on the way"))).Expect(201);
        recorded.Text("reasonForUnread").ShouldBe("block B was lost on the way");
    }

    [Fact]
    public async Task A_block_is_added_later_and_takes_its_place_from_what_is_unmapped()
    {
        var id = await Surgeon.OpenCaseAsync();
        var layer = Some.WholeLayer();
        layer["blocks"]!.AsArray().RemoveAt(1);
        await Surgeon.ConfirmSiteAsync(id, clinic.Histotech);
        (await Surgeon.RecordAsync(id, layer)).Expect(201).Text("alerts[0].code").ShouldBe("unmapped");
        var block = (await clinic.Histotech.PostAsync($"/api/cases/{id}/stages/1/blocks", Some.Block("B", "06:00", "12:00").With("centre", true))).Expect(201);
        block.Header("Location").ShouldBe($"/api/cases/{id}/stages/1");
        block.Header("ETag").ShouldBe("\"5\"");
        block.Text("label").ShouldBe("B");
        block.At("readings").ShouldBeJson("[]");
        (await Surgeon.MarginsAsync(id)).At("alerts").ShouldBeJson("[]");
        (await Surgeon.PostAsync($"/api/cases/{id}/stages/1/blocks", Some.Block("B", "01:00", "02:00"))).ExpectProblem(409);
        (await Surgeon.PostAsync($"/api/cases/{id}/stages/2/blocks", Some.Block("A", "01:00", "02:00"))).ExpectProblem(404);
    }

    [Fact]
    public async Task Times_at_the_bench_are_kept_and_the_last_entry_holds()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        var path = $"/api/cases/{id}/stages/1/times";
        var first = (await clinic.Histotech.PostAsync(path, Some.Json("""{ "receivedAt": "2026-03-03T09:14:00-05:00" }"""))).Expect(200);
        first.Text("receivedAt").ShouldBe("2026-03-03T09:14:00-05:00");
        first.At("slidesReadyAt").ShouldBeNull();
        (await Surgeon.PostAsync(path, Some.Json("""{ "receivedAt": "2026-03-03T09:15:00-05:00", "slidesReadyAt": "2026-03-03T09:50:30-05:00" }"""))).Expect(200);
        var stage = (await Surgeon.CaseAsync(id)).At("stages[0]")!;
        stage.At("receivedAt").ShouldBeJson("\"2026-03-03T09:15:00-05:00\"");
        stage.At("slidesReadyAt").ShouldBeJson("\"2026-03-03T09:50:30-05:00\"");
    }

    [Fact]
    public async Task A_layer_meant_for_another_stage_is_refused()
    {
        var id = await Surgeon.OpenClearAsync();
        (await Surgeon.RecordAsync(id, Some.Rim("01:00", "02:00").With("number", 3))).ExpectProblem(409);
        (await Surgeon.RecordAsync(id, Some.Rim("01:00", "02:00").With("number", 2))).Expect(201);
    }

    [Fact]
    public async Task Blocks_are_suggested_for_an_arc()
    {
        var plan = (await clinic.Histotech.GetAsync("/api/block-plan?from=11:00&to=01:00&count=2")).Expect(200).Json;
        plan.ShouldBeJson("""
            [{ "label": "A", "arc": { "from": "11:00", "to": "12:00" }, "fromInk": "blue", "toInk": "red" },
             { "label": "B", "arc": { "from": "12:00", "to": "01:00" }, "fromInk": "red", "toInk": "blue" }]
            """);
        (await clinic.Histotech.GetAsync("/api/block-plan?from=11:00&to=13:00&count=2")).ExpectProblem(400, "to");
        (await clinic.Histotech.GetAsync("/api/block-plan?to=01:00&count=2")).ExpectProblem(400, "from");
        (await clinic.Histotech.GetAsync("/api/block-plan?from=11:00&to=01:00&count=200")).ExpectProblem(400, "count");
        (await clinic.Histotech.GetAsync("/api/block-plan?from=11:00&to=01:00&count=two")).ExpectProblem(400);
    }
}

[Collection<OnSqlite>]
public sealed class StageTestsOnSqlite(SqliteClinic clinic) : StageTests(clinic);

[Collection<OnPostgres>]
public sealed class StageTestsOnPostgres(PostgresClinic clinic) : StageTests(clinic);
