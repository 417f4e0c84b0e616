using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Features.Margins;

public abstract class MarginsTests(TestClinic clinic)
{
    private Caller Surgeon => clinic.Surgeon;

    [Fact]
    public async Task Margins_have_the_fields_of_the_contract()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        var margins = await Surgeon.MarginsAsync(id);
        margins.Json.Fields().ShouldBe(["afterStage", "state", "peripheral", "deep", "defect", "alerts", "unsignedReadings", "openReviews", "clearedNow"]);
        margins.At("peripheral").Fields().ShouldBe(["outstanding", "unread", "target", "caution", "outstandingMinutes"]);
        margins.At("deep").Fields().ShouldBe(
            ["outstanding", "outstandingCentre", "unread", "unreadCentre", "target", "targetCentre", "caution", "cautionCentre", "outstandingMinutes"]);
        string[] defect = ["areaMm2", "perimeterMm", "lengthMm", "widthMm", "plane", "growth"];
        defect.Except(margins.At("defect").Fields()).ShouldBeEmpty();
        margins.Header("ETag").ShouldBe("\"2\"");
    }

    [Fact]
    public async Task Before_any_tissue_there_is_no_defect()
    {
        var id = await Surgeon.OpenCaseAsync();
        var margins = await Surgeon.MarginsAsync(id);
        margins.Number("afterStage").ShouldBe(0);
        margins.Text("state").ShouldBe("noTissue");
        margins.At("defect").ShouldBeNull();
    }

    [Fact]
    public async Task Growth_is_left_out_where_the_lesion_was_not_measured()
    {
        var id = await Surgeon.OpenCaseAsync(Some.Case().Without("preOperative"));
        (await Surgeon.RecordAsync(id, Some.WholeLayer())).Expect(201);
        (await Surgeon.MarginsAsync(id)).At("defect.growth").ShouldBeNull();
    }

    [Fact]
    public async Task The_state_after_an_earlier_stage_follows_the_readings_that_count_now()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        (await Surgeon.ReadAsync(id, 1, "A", Some.Clear())).Expect(201);
        var first = (await Surgeon.ReadAsync(id, 1, "B", Some.Tumour("07:30", "09:00"))).Expect(201).Text("id");
        (await Surgeon.RecordAsync(id, Some.Rim("07:15", "09:15"))).Expect(201);
        (await Surgeon.ReadAsync(id, 2, "A", Some.Clear())).Expect(201);
        (await Surgeon.MarginsAsync(id)).Text("state").ShouldBe("cleared");
        var earlier = (await Surgeon.GetAsync($"/api/cases/{id}/margins?afterStage=1")).Expect(200);
        earlier.Number("afterStage").ShouldBe(1);
        earlier.At("peripheral.outstanding").ShouldBeJson("""[{ "from": "07:30", "to": "09:00" }]""");

        (await Surgeon.ReadAsync(id, 1, "B", Some.Tumour("10:00", "10:30").With("amends", first).With("reason", "slide was turned"))).Expect(201);
        (await Surgeon.GetAsync($"/api/cases/{id}/margins?afterStage=1")).At("peripheral.outstanding").ShouldBeJson("""[{ "from": "10:00", "to": "10:30" }]""");
        (await Surgeon.GetAsync($"/api/cases/{id}/margins?afterStage=0")).Text("state").ShouldBe("noTissue");
        var now = await Surgeon.MarginsAsync(id);
        now.Number("afterStage").ShouldBe(2);
        now.At("peripheral.outstanding").ShouldBeJson("""[{ "from": "10:00", "to": "10:30" }]""");
        now.At("alerts[0].code").ShouldBeJson("\"leftBehind\"");
        (await Surgeon.CaseAsync(id)).At("stages[1].alerts").ShouldBeJson("[]");
    }

    [Fact]
    public async Task A_rim_adds_its_wedge_to_the_defect()
    {
        var id = await Surgeon.OpenCaseAsync();
        var layer = Some.WholeLayer();
        layer["pieces"]![0]!["outline"]!["ellipse"]!["widthMm"] = 14;
        (await Surgeon.RecordAsync(id, layer)).Expect(201);
        (await Surgeon.RecordAsync(id, Some.Rim("02:00", "05:00").With("reasonForUnread", "shape only"))).Expect(201);

        // Closed form: circle of radius R with a rim w over the angle α: πR² + α/2·((R + w)² − R²); here R = 7, w = 2, α = π/2.
        var area = (Math.PI * 49) + (Math.PI / 4 * (81 - 49));
        (await Surgeon.MarginsAsync(id)).At("defect.areaMm2")!.GetValue<double>().ShouldBe(area, 0.005 * area);
    }

    [Fact]
    public async Task The_clinics_overlap_widens_the_target()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        (await Surgeon.ReadAsync(id, 1, "B", Some.Tumour("07:30", "09:00"))).Expect(201);
        (await clinic.Administrator.PostAsync("/api/clinic", Some.Json("""{ "overlapMinutes": 30 }"""))).Expect(200);
        try
        {
            (await Surgeon.MarginsAsync(id)).At("peripheral.target").ShouldBeJson("""[{ "from": "07:00", "to": "09:30" }]""");
        }
        finally
        {
            (await clinic.Administrator.PostAsync("/api/clinic", Some.Json("""{ "overlapMinutes": 15 }"""))).Expect(200);
        }
    }

    [Theory]
    [InlineData("2")]
    [InlineData("-1")]
    [InlineData("x")]
    [InlineData("99999999999")]
    public async Task A_stage_that_is_not_there_has_no_margins(string after)
    {
        var id = await Surgeon.OpenWithLayerAsync();
        (await Surgeon.GetAsync($"/api/cases/{id}/margins?afterStage={after}")).ExpectProblem(400, "afterStage");
    }
}

[Collection<OnSqlite>]
public sealed class MarginsTestsOnSqlite(SqliteClinic clinic) : MarginsTests(clinic);

[Collection<OnPostgres>]
public sealed class MarginsTestsOnPostgres(PostgresClinic clinic) : MarginsTests(clinic);
