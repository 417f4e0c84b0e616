using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Features.Margins;

/// <summary>The worked example of the project's domain description, every figure of it, over HTTP.</summary>
public abstract class WorkedExampleTests(TestClinic clinic)
{
    private Caller Surgeon => clinic.Surgeon;

    [Fact]
    public async Task The_worked_example_gives_every_figure()
    {
        var id = await Surgeon.OpenCaseAsync();
        await FirstLayerAsync(id);
        await FirstReadingsAsync(id);
        await SecondLayerAsync(id);
        await ThirdLayerAsync(id);
    }

    private async Task FirstLayerAsync(string id)
    {
        (await Surgeon.MarginsAsync(id)).Text("state").ShouldBe("noTissue");
        await Surgeon.ConfirmSiteAsync(id, clinic.Histotech);
        (await Surgeon.RecordAsync(id, Some.WholeLayer())).Expect(201).At("alerts").ShouldBeJson("[]");
        var before = await Surgeon.MarginsAsync(id);
        before.Text("state").ShouldBe("awaitingReadings");
        before.At("peripheral.unread").ShouldBeJson("""[{ "from": "12:00", "to": "12:00" }]""");
        before.At("deep.unread").ShouldBeJson("""[{ "from": "12:00", "to": "12:00" }]""");
        before.At("deep.unreadCentre").ShouldBeJson("true");
        before.At("peripheral.outstanding").ShouldBeJson("[]");
        (await Surgeon.EndAsync(id, Some.EndCleared())).ExpectProblem(409);
    }

    private async Task FirstReadingsAsync(string id)
    {
        (await Surgeon.ReadAsync(id, 1, "A", Some.Clear())).Expect(201);
        (await Surgeon.ReadAsync(id, 1, "B", Some.Tumour("07:30", "09:00"))).Expect(201);
        var margins = await Surgeon.MarginsAsync(id);
        margins.At("peripheral").ShouldBeJson("""
            { "outstanding": [{ "from": "07:30", "to": "09:00" }], "unread": [], "target": [{ "from": "07:15", "to": "09:15" }],
              "caution": [], "outstandingMinutes": 90 }
            """);
        margins.At("deep").ShouldBeJson("""
            { "outstanding": [], "outstandingCentre": false, "unread": [], "unreadCentre": false, "target": [], "targetCentre": false,
              "caution": [], "cautionCentre": false, "outstandingMinutes": 0 }
            """);
        margins.Text("state").ShouldBe("tumourOutstanding");

        // Closed form of an ellipse 14 × 10 mm: π·14·10/4 = 109.956 mm²; beside the lesion of 9 × 7 mm, 140/63 times.
        margins.At("defect.areaMm2")!.GetValue<double>().ShouldBe(Math.PI * 14 * 10 / 4, 0.005 * 110);
        margins.At("defect.growth")!.GetValue<double>().ShouldBe(140 / 63.0, 0.005 * 2.2);
        margins.At("defect.lengthMm")!.GetValue<double>().ShouldBe(14, 0.005 * 14);
        margins.At("defect.widthMm")!.GetValue<double>().ShouldBe(10, 0.005 * 10);

        // Perimeter of that ellipse by Ramanujan's second formula (Modular equations and approximations to π, 1914), from memory.
        const double h = 4.0 / 144;
        margins.At("defect.perimeterMm")!.GetValue<double>().ShouldBe(Math.PI * 12 * (1 + (3 * h / (10 + Math.Sqrt(4 - (3 * h))))), 0.005 * 38);
    }

    private async Task SecondLayerAsync(string id)
    {
        var stage = (await Surgeon.RecordAsync(id, Some.Rim("07:45", "09:15"))).Expect(201);
        var alert = stage.At("alerts")!.AsArray().ShouldHaveSingleItem()!;
        alert.Fields().ShouldBe(["code", "margin", "arcs", "centre", "message"]);
        alert["code"].ShouldBeJson("\"leftBehind\"");
        alert["margin"].ShouldBeJson("\"peripheral\"");
        alert["arcs"].ShouldBeJson("""[{ "from": "07:30", "to": "07:45" }]""");
        alert["centre"].ShouldBeJson("false");

        (await Surgeon.ReadAsync(id, 2, "A", Some.Clear())).Expect(201);
        var margins = await Surgeon.MarginsAsync(id);
        margins.At("peripheral.outstanding").ShouldBeJson("""[{ "from": "07:30", "to": "07:45" }]""");
        margins.Number("peripheral.outstandingMinutes").ShouldBe(15);
        margins.At("peripheral.target").ShouldBeJson("""[{ "from": "07:15", "to": "08:00" }]""");
        margins.At("peripheral.unread").ShouldBeJson("[]");

        var refused = (await Surgeon.EndAsync(id, Some.EndCleared())).ExpectProblem(409);
        refused.At("arcs").ShouldBeJson("""[{ "why": "outstanding", "margin": "peripheral", "arcs": [{ "from": "07:30", "to": "07:45" }], "centre": false }]""");
        refused.Text("detail").ShouldContain("7:30 to 7:45 o'clock");
    }

    private async Task ThirdLayerAsync(string id)
    {
        (await Surgeon.RecordAsync(id, Some.Rim("07:15", "08:00"))).Expect(201).At("alerts").ShouldBeJson("[]");
        (await Surgeon.ReadAsync(id, 3, "A", Some.Clear())).Expect(201);
        var margins = await Surgeon.MarginsAsync(id);
        margins.Text("state").ShouldBe("cleared");
        margins.Number("afterStage").ShouldBe(3);
        margins.At("peripheral.outstanding").ShouldBeJson("[]");
        margins.At("peripheral.unread").ShouldBeJson("[]");
        var ended = (await Surgeon.EndAsync(id, Some.EndCleared())).Expect(200);
        ended.Text("status").ShouldBe("ended");
        ended.Text("outcome").ShouldBe("cleared");
    }
}

[Collection<OnSqlite>]
public sealed class WorkedExampleOnSqlite(SqliteClinic clinic) : WorkedExampleTests(clinic);

[Collection<OnPostgres>]
public sealed class WorkedExampleOnPostgres(PostgresClinic clinic) : WorkedExampleTests(clinic);
