using System.Text.Json.Nodes;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Writing;

/// <summary>Every change of a case leaves one row that says who did what and when.</summary>
public abstract class HistoryTests(TestClinic clinic)
{
    private Caller Surgeon => clinic.Surgeon;

    [Fact]
    public async Task Each_change_writes_one_row_numbered_by_the_version_it_made()
    {
        var id = await clinic.Histotech.OpenCaseAsync();
        var layer = Some.WholeLayer();
        (await clinic.Histotech.RecordAsync(id, layer)).Expect(201);
        (await clinic.Histotech.PostAsync($"/api/cases/{id}/stages/1/blocks", Some.Block("C", "01:00", "02:00"))).Expect(201);
        (await clinic.Histotech.PostAsync($"/api/cases/{id}/stages/1/times", Some.Json("""{ "receivedAt": "2026-03-03T09:14:00-05:00" }"""))).Expect(200);
        var draft = (await clinic.Histotech.ReadAsync(id, 1, "A", Some.Clear())).Expect(201).Text("id");
        (await Surgeon.PostAsync($"/api/cases/{id}/readings/{draft}/countersign", null)).Expect(200);
        (await Surgeon.ReadAsync(id, 1, "B", Some.Clear())).Expect(201);
        (await Surgeon.ReadAsync(id, 1, "C", Some.Clear())).Expect(201);
        (await clinic.OtherSurgeon.ReadAsync(id, 1, "A", Some.Clear().With("readerEmail", TestClinic.OtherSurgeonEmail).With("amends", draft).With("reason", "second look"))).Expect(201);
        (await Surgeon.PostAsync($"/api/cases/{id}/measured-defect", Some.Json("""{ "lengthMm": 14, "widthMm": 10 }"""))).Expect(200);
        (await Surgeon.EndAsync(id, Some.EndCleared())).Expect(200);

        var history = await clinic.Database.EntriesAsync(id);
        history.Select(entry => entry.SubjectNumber).ShouldBe(Enumerable.Range(1, 11).Select(number => (long?)number));
        history.Select(entry => entry.Kind).ShouldBe(
            ["openCase", "recordLayer", "addBlock", "recordTimes", "recordReading", "countersign", "recordReading", "recordReading", "amendReading", "measureDefect", "endCase"]);
        var people = await PeopleAsync();
        history.Select(entry => people[entry.ById]).ShouldBe(
            [.. Enumerable.Repeat(TestClinic.HistotechEmail, 5), .. Enumerable.Repeat(TestClinic.SurgeonEmail, 3), TestClinic.OtherSurgeonEmail, TestClinic.SurgeonEmail, TestClinic.SurgeonEmail]);
        var said = (await Surgeon.GetAsync($"/api/cases/{id}/history")).Expect(200).At("entries")!.AsArray().Select(entry => entry!["sentence"]!.GetValue<string>()).ToList();
        said[1].ShouldBe("Stage 1 recorded: whole layer; blocks A, B.");
        said[8].ShouldStartWith("Amended. Stage 1, block A: clear");
        history.ShouldAllBe(entry => JsonNode.Parse(entry.Body, null, default) is JsonObject);
        (await Surgeon.CaseAsync(id)).Version().ShouldBe(11);
    }

    [Fact]
    public async Task A_row_holds_what_was_entered_and_when_by_the_clinics_clock()
    {
        var before = TestClock.Now.UtcDateTime;
        var body = Some.Case();
        var id = await Surgeon.OpenCaseAsync(body);
        var layer = Some.WholeLayer();
        (await Surgeon.RecordAsync(id, layer)).Expect(201);
        var after = TestClock.Now.UtcDateTime;

        var history = await clinic.Database.EntriesAsync(id);
        var content = JsonNode.Parse(history[0].Body)!;
        content["patientRef"]!.GetValue<string>().ShouldNotContain(body["patientRef"]!.GetValue<string>());
        var shown = (await Surgeon.GetAsync($"/api/cases/{id}/history")).Expect(200);
        shown.At("entries[0].content.patientRef").ShouldBeJson(body["patientRef"]!.ToJsonString());
        shown.At("entries[0].content.facts.site").ShouldBeJson(body["site"]!.ToJsonString());
        JsonNode.Parse(history[1].Body)!.At("pieces[0].outline.length").ShouldBeJson("14000");
        foreach (var entry in history)
        {
            entry.At.Utc.ShouldBeInRange(before.AddMilliseconds(-1), after);
            entry.At.OffsetMinutes.ShouldBe((short)TimeZoneInfo.FindSystemTimeZoneById(TestClinic.TimeZone).GetUtcOffset(entry.At.Utc).TotalMinutes);
        }
    }

    [Fact]
    public async Task A_refused_change_leaves_no_row()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        (await Surgeon.EndAsync(id, Some.EndCleared())).ExpectProblem(409);
        (await Surgeon.RecordAsync(id, Some.Rim("01:00", "02:00"))).ExpectProblem(409);
        (await Surgeon.PreviewAsync(id, Some.Rim("01:00", "02:00"))).Expect(200);
        (await clinic.Database.EntriesAsync(id)).Count.ShouldBe(2);
    }

    private async Task<Dictionary<Guid, string>> PeopleAsync()
    {
        await using var db = clinic.Database.NewContext();
        return await db.Users.ToDictionaryAsync(person => person.Id, person => person.Email!);
    }
}

[Collection<OnSqlite>]
public sealed class HistoryTestsOnSqlite(SqliteClinic clinic) : HistoryTests(clinic);

[Collection<OnPostgres>]
public sealed class HistoryTestsOnPostgres(PostgresClinic clinic) : HistoryTests(clinic);
