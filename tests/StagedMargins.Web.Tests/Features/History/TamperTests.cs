using System.Data.Common;
using StagedMargins.Drawing.Tests.Photos;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Features.History;

/// <summary>What someone with a hand on the database changes is refused by it, and found where the refusal is switched off.</summary>
public abstract class TamperTests(TestClinic clinic)
{
    private static readonly string[] WrittenOnce =
        ["cases", "stages", "stage_times", "blocks", "readings", "countersignatures", "endings", "measured_defects", "facts_corrections", "site_confirmations",
            "site_photos", "risk_assessments", "history", "anaesthetic_doses", "anaesthetic_voids", "repairs", "visits", "permanent_sections", "permanent_results",
            "second_reads", "second_read_answers"];

    private Caller Surgeon => clinic.Surgeon;

    [Fact]
    public async Task The_history_of_an_untouched_case_is_intact()
    {
        var id = await WholeCaseAsync();
        var history = (await Surgeon.GetAsync($"/api/cases/{id}/history")).Expect(200);
        history.At("chain.intact")!.GetValue<bool>().ShouldBeTrue();
        history.Number("chain.checkedEntries").ShouldBe(history.At("entries")!.AsArray().Count);
    }

    [Fact]
    public async Task The_database_itself_refuses_to_change_or_delete_a_row_of_the_record()
    {
        var id = await WholeCaseAsync();
        var draft = (await clinic.Histotech.RecordAsync(id, Some.Rim("07:15", "09:15"))).Expect(201);
        draft.Number("number").ShouldBe(2);
        var reading = (await clinic.Histotech.ReadAsync(id, 2, "A", Some.Clear())).Expect(201).Text("id");
        (await Surgeon.PostAsync($"/api/cases/{id}/readings/{reading}/countersign", null)).Expect(200);
        (await Surgeon.PostAsync($"/api/cases/{id}/measured-defect", Some.Json("""{ "lengthMm": 14, "widthMm": 10 }"""))).Expect(200);
        (await Surgeon.EndAsync(id, Some.EndCleared())).Expect(200);
        (await Surgeon.PostAsync($"/api/cases/{id}/facts", Some.Json("""{ "weightKg": 70, "reason": "weighed" }"""))).Expect(200);
        await Surgeon.ConfirmSiteAsync(await Surgeon.OpenCaseAsync(), clinic.Histotech);
        foreach (var table in WrittenOnce)
        {
            await Should.ThrowAsync<DbException>(() => clinic.Database.ExecuteAsync($"UPDATE {table} SET clinic_id = clinic_id"), table);
            await Should.ThrowAsync<DbException>(() => clinic.Database.ExecuteAsync($"DELETE FROM {table}"), table);
        }
    }

    [Theory]
    [InlineData("readings", "UPDATE readings SET outcome = 'clear', findings = '[]' WHERE outcome = 'tumour' AND case_id = {0}", "readings")]
    [InlineData("blocks", "UPDATE blocks SET arc = '06:00-11:00' WHERE label = 'B' AND case_id = {0}", "blocks")]
    [InlineData("stages", "UPDATE stages SET reason_for_unread = 'patient unwell' WHERE case_id = {0}", "stages")]
    [InlineData("cases", "UPDATE cases SET twelve_o_clock = 'toward the chin' WHERE id = {0}", "cases")]
    [InlineData("history", "UPDATE history SET content = '{{}}' WHERE sequence = 2 AND case_id = {0}", "history")]
    [InlineData("history", "DELETE FROM history WHERE sequence = 3 AND case_id = {0}", "history")]
    [InlineData("stage_times", "DELETE FROM stage_times WHERE case_id = {0}", "stage_times")]
    [InlineData("site_photos", "UPDATE site_photos SET bytes = (SELECT bytes FROM site_photos WHERE ordinal = 2 AND case_id = {0}) WHERE ordinal = 1 AND case_id = {0}", "site_photos 1")]
    [InlineData("site_photos", "UPDATE site_photos SET sha256 = (SELECT sha256 FROM site_photos WHERE ordinal = 2 AND case_id = {0}) WHERE ordinal = 1 AND case_id = {0}", "site_photos 1")]
    [InlineData("site_photos", "DELETE FROM site_photos WHERE ordinal = 2 AND case_id = {0}", "site_photos 2")]
    [InlineData("anaesthetic_doses", "UPDATE anaesthetic_doses SET microlitres = 1 WHERE case_id = {0}", "anaesthetic_doses")]
    [InlineData("visits", "UPDATE visits SET recurrence = NOT recurrence WHERE case_id = {0}", "visits")]
    [InlineData("second_read_answers", "UPDATE second_read_answers SET outcome = 'clear' WHERE case_id = {0}", "second_read_answers")]
    [InlineData("permanent_results", "DELETE FROM permanent_results WHERE case_id = {0}", "permanent_results")]
    [InlineData("case_heads", "UPDATE case_heads SET recall = NOT recall WHERE case_id = {0}", "case_heads")]
    [InlineData("case_heads", "UPDATE case_heads SET version = version - 1 WHERE case_id = {0}", "case_heads")]
    [InlineData("case_heads", "UPDATE case_heads SET state = 'cleared' WHERE case_id = {0}", "case_heads")]
    public async Task A_row_changed_behind_the_program_s_back_is_named(string table, string sql, string named)
    {
        var id = await WholeCaseAsync();
        await WithoutTriggersAsync(table, string.Format(System.Globalization.CultureInfo.InvariantCulture, sql, Literal(id)));
        var chain = (await Surgeon.GetAsync($"/api/cases/{id}/history")).Expect(200).At("chain")!;
        chain["intact"]!.GetValue<bool>().ShouldBeFalse();
        chain["firstBroken"]!["row"]!.GetValue<string>().ShouldStartWith(named);
        (await Surgeon.GetAsync($"/api/cases/{id}/fhir")).ExpectProblem(409).Text("type").ShouldEndWith("notIntact");
    }

    private string Literal(string id) => clinic.Engine == Engine.Sqlite ? $"'{id.ToUpperInvariant()}'" : $"'{id}'";

    private async Task<string> WholeCaseAsync()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        (await Surgeon.PostAsync($"/api/cases/{id}/stages/1/times", Some.Json("""{ "receivedAt": "2026-03-03T09:14:00-05:00" }"""))).Expect(200);
        (await Surgeon.ReadAsync(id, 1, "A", Some.Clear())).Expect(201);
        (await Surgeon.ReadAsync(id, 1, "B", Some.Tumour("07:30", "09:00"))).Expect(201);
        await clinic.CareForAsync(id);
        await Surgeon.AddSitePhotoAsync(id, CameraFile.Jpeg(60, 40));
        await Surgeon.AddSitePhotoAsync(id, CameraFile.Png(40, 60));
        return id;
    }

    // As someone would who may do everything: the triggers are taken away for one statement and put back.
    private async Task WithoutTriggersAsync(string table, string sql)
    {
        if (clinic.Engine == Engine.Postgres)
        {
            await clinic.Database.ExecuteAsync($"ALTER TABLE {table} DISABLE TRIGGER USER; {sql}; ALTER TABLE {table} ENABLE TRIGGER USER");
            return;
        }

        var triggers = await clinic.Database.QueryAsync<string>($"SELECT sql FROM sqlite_master WHERE type = 'trigger' AND tbl_name = '{table}'");
        var names = await clinic.Database.QueryAsync<string>($"SELECT name FROM sqlite_master WHERE type = 'trigger' AND tbl_name = '{table}'");
        await clinic.Database.ExecuteAsync(string.Concat(["PRAGMA foreign_keys = OFF; ", .. names.Select(name => $"DROP TRIGGER {name}; "), $"{sql}; ", .. triggers.Select(trigger => $"{trigger}; ")]));
    }
}

[Collection<OnSqlite>]
public sealed class TamperTestsOnSqlite(SqliteClinic clinic) : TamperTests(clinic);

[Collection<OnPostgres>]
public sealed class TamperTestsOnPostgres(PostgresClinic clinic) : TamperTests(clinic);
