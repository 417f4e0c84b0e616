using System.Data.Common;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Access;

public abstract class AccessLogTests(TestClinic clinic)
{
    [Fact]
    public async Task Each_look_at_a_case_is_one_row_with_who_and_what()
    {
        var id = await clinic.Surgeon.OpenWithLayerAsync();
        foreach (var path in new[] { "", "/margins", "/margins?afterStage=1", "/history", "/stages/1", "/map.svg", "/stages/1/map.svg" })
        {
            (await clinic.Histotech.GetAsync($"/api/cases/{id}{path}")).Expect(200);
        }

        (await clinic.OtherSurgeon.GetAsync($"/api/cases/{id}")).Expect(200);
        (await clinic.OtherSurgeon.PreviewAsync(id, Some.Rim("01:00", "02:00").With("reasonForUnread", "x"))).Expect(200);
        (await clinic.OtherSurgeon.PostAsync($"/api/cases/{id}/stages/rehearsal/map.svg", Some.Rim("01:00", "02:00"))).Expect(200);
        (await clinic.OtherSurgeon.GetAsync($"/cases/{id}/record")).Expect(200);
        var rows = await OpeningsAsync(clinic.Administrator, id);
        rows.Where(row => row.By == TestClinic.HistotechEmail).Select(row => row.What).Order(StringComparer.Ordinal)
            .ShouldBe(["case", "history", "map.svg", "margins", "stages/1", "stages/1/map.svg"]);
        rows.Where(row => row.By == TestClinic.OtherSurgeonEmail).Select(row => row.What).Order(StringComparer.Ordinal)
            .ShouldBe(["case", "record", "stages/rehearsal", "stages/rehearsal/map.svg"]);
        rows.Where(row => row.By == TestClinic.SurgeonEmail).ShouldBeEmpty();
    }

    [Fact]
    public async Task Looking_again_within_a_minute_is_the_same_row()
    {
        var id = await clinic.Surgeon.OpenWithLayerAsync();
        await Task.WhenAll(Enumerable.Range(0, 20).Select(_ => clinic.Histotech.GetAsync($"/api/cases/{id}")));
        (await OpeningsAsync(clinic.Surgeon, id)).ShouldHaveSingleItem();
    }

    [Fact]
    public async Task A_refused_look_is_not_written_and_the_openings_are_for_surgeon_and_administrator()
    {
        var id = await clinic.Surgeon.OpenCaseAsync();
        (await clinic.Manager.GetAsync($"/api/cases/{id}")).ExpectProblem(403);
        (await clinic.Surgeon.GetAsync($"/api/cases/{id}/stages/7")).ExpectProblem(404);
        (await (await OtherClinic.SurgeonAsync(clinic)).GetAsync($"/api/cases/{id}")).ExpectProblem(404);
        (await OpeningsAsync(clinic.Surgeon, id)).ShouldBeEmpty();
        (await clinic.Manager.GetAsync($"/api/cases/{id}/openings")).ExpectProblem(403);
        (await clinic.Histotech.GetAsync($"/api/cases/{id}/openings")).ExpectProblem(403);
        (await clinic.Surgeon.GetAsync($"/api/cases/{Guid.NewGuid()}/openings")).ExpectProblem(404);
    }

    [Fact]
    public async Task The_administrator_sees_who_and_when_and_nothing_of_the_patient()
    {
        var body = Some.Case();
        var id = await clinic.Surgeon.OpenCaseAsync(body);
        (await clinic.Histotech.GetAsync($"/api/cases/{id}")).Expect(200);
        var reply = (await clinic.Administrator.GetAsync($"/api/cases/{id}/openings")).Expect(200);
        reply.Json.Fields().ShouldBe(["items", "next"]);
        reply.At("items")!.AsArray().ShouldAllBe(item => item!.Fields().SequenceEqual(new[] { "at", "by", "what" }));
        reply.Body.ShouldNotContain(body["patientRef"]!.GetValue<string>());
        DateTimeOffset.Parse(reply.Text("items[0].at"), System.Globalization.CultureInfo.InvariantCulture).Offset.ShouldBeOneOf(TimeSpan.FromHours(-4), TimeSpan.FromHours(-3));
    }

    [Fact]
    public async Task Pages_lead_through_all_of_it()
    {
        var id = await clinic.Surgeon.OpenWithLayerAsync();
        foreach (var path in new[] { "", "/margins", "/history", "/stages/1", "/map.svg" })
        {
            (await clinic.Histotech.GetAsync($"/api/cases/{id}{path}")).Expect(200);
        }

        var seen = new List<string>();
        for (string? cursor = "0"; cursor is not null;)
        {
            var page = (await clinic.Surgeon.GetAsync($"/api/cases/{id}/openings?limit=2&cursor={cursor}")).Expect(200);
            seen.AddRange(page.At("items")!.AsArray().Select(item => item!["what"]!.GetValue<string>()));
            cursor = page.At("next")?.GetValue<string>();
        }

        seen.ShouldBe(["map.svg", "stages/1", "history", "margins", "case"]);
        (await clinic.Surgeon.GetAsync($"/api/cases/{id}/openings?limit=0")).ExpectProblem(400, "limit");
        (await clinic.Surgeon.GetAsync($"/api/cases/{id}/openings?cursor=-1")).ExpectProblem(400, "cursor");
    }

    [Theory]
    [InlineData("UPDATE access_log SET what = 'nothing'")]
    [InlineData("DELETE FROM access_log")]
    public async Task Nobody_changes_or_deletes_what_is_written(string statement)
    {
        var id = await clinic.Surgeon.OpenCaseAsync();
        (await clinic.Histotech.GetAsync($"/api/cases/{id}")).Expect(200);
        (await OpeningsAsync(clinic.Surgeon, id)).ShouldHaveSingleItem();
        var refused = await Should.ThrowAsync<DbException>(() => clinic.Database.ExecuteAsync(statement));
        refused.Message.ShouldContain("written once");
        (await OpeningsAsync(clinic.Surgeon, id)).ShouldHaveSingleItem().What.ShouldBe("case");
    }

    [Fact]
    public async Task A_log_that_cannot_be_written_stops_no_reader_and_is_caught_up_with()
    {
        var id = await clinic.Surgeon.OpenCaseAsync();
        await clinic.Database.ExecuteAsync("ALTER TABLE access_log RENAME TO access_log_away");
        try
        {
            (await clinic.Histotech.GetAsync($"/api/cases/{id}")).Expect(200);
            (await clinic.Surgeon.GetAsync($"/api/cases/{id}/margins")).Expect(200);
            await Task.Delay(2500, TestContext.Current.CancellationToken);
        }
        finally
        {
            await clinic.Database.ExecuteAsync("ALTER TABLE access_log_away RENAME TO access_log");
        }

        var rows = await OpeningsAsync(clinic.Surgeon, id);
        rows.Select(row => row.What).Order(StringComparer.Ordinal).ShouldBe(["case", "margins"]);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(24)]
    public async Task A_clock_that_steps_back_loses_no_opening_and_no_order(int hours)
    {
        var clock = new SetClock(TestClock.Now);
        await using var database = await (await clinic.Server.Templates.ClinicAsync(clinic.Engine)).Database.CopyAsync(clinic.Server);
        await using (var host = ServiceHost.Start(database, clock))
        {
            var surgeon = await host.Stranger().SignInAsync(TestClinic.SurgeonEmail, TestClinic.Password);
            var id = await surgeon.OpenCaseAsync();
            (await surgeon.CaseAsync(id)).Expect(200);
            (await OpeningsAsync(surgeon, id)).Select(row => row.What).ShouldBe(["case"]);
            clock.Advance(TimeSpan.FromHours(-hours));
            var again = await host.Stranger().SignInAsync(TestClinic.SurgeonEmail, TestClinic.Password);
            (await again.GetAsync($"/api/cases/{id}/margins")).Expect(200);
            (await again.CaseAsync(id)).Expect(200);
            (await OpeningsAsync(again, id)).Select(row => row.What).ShouldBe(["case", "margins", "case"]);
            (await again.PostAsync($"/api/cases/{id}/facts", Some.Json("""{ "weightKg": 70, "reason": "weighed" }"""))).Expect(200);
            var history = (await again.GetAsync($"/api/cases/{id}/history")).Expect(200);
            history.At("entries")!.AsArray().Select(entry => entry!["what"]!.GetValue<string>()).ShouldBe(["openCase", "correctFacts"]);
            history.At("chain.intact").ShouldBeJson("true");
        }
    }

    private static async Task<List<(string By, string What)>> OpeningsAsync(Caller who, string id) =>
        [.. (await who.GetAsync($"/api/cases/{id}/openings")).Expect(200).At("items")!.AsArray().Select(item => (item!["by"]!.GetValue<string>(), item["what"]!.GetValue<string>()))];
}

[Collection<OnSqlite>]
public sealed class AccessLogTestsOnSqlite(SqliteClinic clinic) : AccessLogTests(clinic);

[Collection<OnPostgres>]
public sealed class AccessLogTestsOnPostgres(PostgresClinic clinic) : AccessLogTests(clinic);
