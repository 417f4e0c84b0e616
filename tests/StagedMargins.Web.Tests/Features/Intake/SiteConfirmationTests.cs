using System.Text.Json.Nodes;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Features.Intake;

public abstract class SiteConfirmationTests(TestClinic clinic)
{
    private Caller Surgeon => clinic.Surgeon;

    [Fact]
    public async Task Two_people_confirm_the_site_and_the_first_layer_raises_no_alert()
    {
        var id = await Surgeon.OpenCaseAsync();
        await Surgeon.ConfirmSiteAsync(id, clinic.Histotech);
        var read = await Surgeon.CaseAsync(id);
        read.Text("siteConfirmations[0].confirmedBy").ShouldBe(TestClinic.SurgeonEmail);
        read.Text("siteConfirmations[1].confirmedBy").ShouldBe(TestClinic.HistotechEmail);
        read.Text("siteConfirmations[1].site.side").ShouldBe("left");
        (await Surgeon.RecordAsync(id, Some.WholeLayer())).Expect(201).At("alerts").ShouldBeJson("[]");
    }

    [Fact]
    public async Task A_first_layer_without_both_is_recorded_with_the_alert_and_its_reason_and_rehearsed_alike()
    {
        var id = await Surgeon.OpenCaseAsync();
        (await Surgeon.PostAsync(Path(id), new JsonObject())).Expect(201);
        var layer = Some.WholeLayer().With("reasonForUnconfirmedSite", "second person called away");
        (await Surgeon.PreviewAsync(id, layer)).Expect(200).Text("alerts[0].code").ShouldBe("siteNotConfirmed");
        var stage = (await Surgeon.RecordAsync(id, layer)).Expect(201);
        stage.Text("alerts[0].code").ShouldBe("siteNotConfirmed");
        stage.At("alerts[0].margin").ShouldBeNull();
        stage.At("alerts[0].arcs").ShouldBeJson("[]");
        stage.Text("alerts[0].message").ShouldContain("second person called away");
        stage.Text("reasonForUnconfirmedSite").ShouldBe("second person called away");
        (await Surgeon.CaseAsync(id)).At("stages[0]").ShouldBeJson(stage.Body);
        (await Surgeon.MarginsAsync(id)).At("alerts").ShouldBeJson("[]");
        (await Surgeon.GetAsync($"/api/cases/{id}/history")).Expect(200).At("chain.intact").ShouldBeJson("true");
    }

    [Fact]
    public async Task A_layer_without_confirmation_and_without_reason_is_never_refused()
    {
        var id = await Surgeon.OpenCaseAsync();
        (await Surgeon.RecordAsync(id, Some.WholeLayer())).Expect(201).Text("alerts[0].code").ShouldBe("siteNotConfirmed");
    }

    [Fact]
    public async Task The_same_person_is_refused_the_second_time_and_what_was_missed_can_be_confirmed_after_the_first_layer()
    {
        var id = await Surgeon.OpenCaseAsync();
        (await Surgeon.PostAsync(Path(id), new JsonObject())).Expect(201);
        (await Surgeon.PostAsync(Path(id), new JsonObject())).ExpectProblem(409);
        (await Surgeon.RecordAsync(id, Some.WholeLayer())).Expect(201);
        (await clinic.Histotech.PostAsync(Path(id), new JsonObject())).Expect(201);
        (await Surgeon.CaseAsync(id)).At("siteConfirmed").ShouldBeJson("true");
    }

    [Fact]
    public async Task The_same_send_again_confirms_once()
    {
        var id = await Surgeon.OpenCaseAsync();
        var key = Guid.NewGuid().ToString("N");
        (await Surgeon.PostAsync(Path(id), new JsonObject(), ("Idempotency-Key", key))).Expect(201);
        (await Surgeon.PostAsync(Path(id), new JsonObject(), ("Idempotency-Key", key))).Expect(201);
        (await Surgeon.CaseAsync(id)).At("siteConfirmations")!.AsArray().Count.ShouldBe(1);
    }

    [Fact]
    public async Task A_corrected_side_is_to_be_confirmed_anew()
    {
        var id = await Surgeon.OpenCaseAsync();
        await Surgeon.ConfirmSiteAsync(id, clinic.Histotech);
        var corrected = (await Surgeon.PostAsync($"/api/cases/{id}/facts", Some.Json("""{ "site": { "side": "right" }, "reason": "photograph shows the right side" }"""))).Expect(200);
        corrected.Text("site.side").ShouldBe("right");
        corrected.Text("site.code").ShouldBe("C44.3");
        corrected.At("siteConfirmations[0].holds").ShouldBeJson("false");
        (await Surgeon.PreviewAsync(id, Some.WholeLayer())).Expect(200).Text("alerts[0].code").ShouldBe("siteNotConfirmed");
    }

    private static string Path(string id) => $"/api/cases/{id}/site-confirmations";
}

[Collection<OnSqlite>]
public sealed class SiteConfirmationTestsOnSqlite(SqliteClinic clinic) : SiteConfirmationTests(clinic);

[Collection<OnPostgres>]
public sealed class SiteConfirmationTestsOnPostgres(PostgresClinic clinic) : SiteConfirmationTests(clinic);
