using System.Data.Common;
using StagedMargins.Drawing.Tests.Photos;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Features.History;

/// <summary>What someone with a hand on the database changes is refused by it, and found where the refusal is switched off.</summary>
public abstract class TamperTests(TestClinic clinic)
{
    private static readonly string[] WrittenOnce = ["ledger_entries", "photographs"];

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
        await WholeCaseAsync();
        foreach (var table in WrittenOnce)
        {
            await Should.ThrowAsync<DbException>(() => clinic.Database.ExecuteAsync($"UPDATE {table} SET clinic_id = clinic_id"), table);
            await Should.ThrowAsync<DbException>(() => clinic.Database.ExecuteAsync($"DELETE FROM {table}"), table);
        }
    }

    [Theory]
    [InlineData("ledger_entries", "UPDATE ledger_entries SET body = replace(body, 'tumour', 'clear') WHERE kind = 'recordReading' AND subject_id = {0}", "ledger_entries")]
    [InlineData("ledger_entries", "UPDATE ledger_entries SET body = 'nothing' WHERE kind = 'recordLayer' AND subject_id = {0}", "ledger_entries")]
    [InlineData("ledger_entries", "UPDATE ledger_entries SET kind = 'addBlock' WHERE kind = 'recordTimes' AND subject_id = {0}", "ledger_entries")]
    [InlineData("ledger_entries", "UPDATE ledger_entries SET by_name = 'Another <another@clinic.invalid>' WHERE kind = 'openCase' AND subject_id = {0}", "ledger_entries")]
    [InlineData("ledger_entries", "UPDATE ledger_entries SET at_offset = at_offset + 60 WHERE kind = 'recordVisit' AND subject_id = {0}", "ledger_entries")]
    [InlineData("ledger_entries", "UPDATE ledger_entries SET origin = '{{}}' WHERE kind = 'openCase' AND subject_id = {0}", "ledger_entries")]
    [InlineData("ledger_entries", "UPDATE ledger_entries SET form = 2 WHERE kind = 'recordLayer' AND subject_id = {0}", "ledger_entries")]
    [InlineData("ledger_entries", "DELETE FROM ledger_entries WHERE kind = 'recordTimes' AND subject_id = {0}", "ledger_entries")]
    [InlineData("ledger_entries", "DELETE FROM ledger_entries WHERE subject_number = (SELECT version FROM cases WHERE case_id = {0}) AND subject_id = {0}", "cases")]
    [InlineData("photographs", "UPDATE photographs SET bytes = (SELECT bytes FROM photographs WHERE case_id = {0} ORDER BY sha256 DESC LIMIT 1) WHERE case_id = {0}", "photographs")]
    [InlineData("photographs", "DELETE FROM photographs WHERE case_id = {0}", "photographs 1")]
    [InlineData("second_reads", "UPDATE second_reads SET is_answered = NOT is_answered WHERE case_id = {0}", "cases")]
    [InlineData("cases", "UPDATE cases SET recall = NOT recall WHERE case_id = {0}", "cases")]
    [InlineData("cases", "UPDATE cases SET version = version - 1 WHERE case_id = {0}", "cases")]
    [InlineData("cases", "UPDATE cases SET state = 'cleared' WHERE case_id = {0}", "cases")]
    [InlineData("cases", "UPDATE cases SET patient_ref = 'another' WHERE case_id = {0}", "cases")]
    public async Task A_row_changed_behind_the_program_s_back_is_named(string table, string sql, string named)
    {
        var id = await WholeCaseAsync();
        await clinic.Database.WithoutTriggersAsync(table, string.Format(System.Globalization.CultureInfo.InvariantCulture, sql, clinic.Database.Literal(id)));
        var chain = (await Surgeon.GetAsync($"/api/cases/{id}/history")).Expect(200).At("chain")!;
        chain["intact"]!.GetValue<bool>().ShouldBeFalse();
        chain["firstBroken"]!["row"]!.GetValue<string>().ShouldStartWith(named);
        (await Surgeon.GetAsync($"/api/cases/{id}/fhir")).ExpectProblem(409).Text("type").ShouldEndWith("notIntact");
    }

    private async Task<string> WholeCaseAsync()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        (await Surgeon.PostAsync($"/api/cases/{id}/stages/1/times", Some.Json("""{ "receivedAt": "2026-03-03T09:14:00-05:00" }"""))).Expect(200);
        (await Surgeon.ReadAsync(id, 1, "A", Some.Clear())).Expect(201);
        (await Surgeon.ReadAsync(id, 1, "B", Some.Tumour("07:30", "09:00"))).Expect(201);
        await clinic.CareForAsync(id);
        await Surgeon.AddSitePhotoAsync(id, CameraFile.Jpeg(60, 40));
        await Surgeon.AddSitePhotoAsync(id, CameraFile.Png(40, 60));

        // So that the end of the record, which writers go on from, is another case's.
        await Surgeon.OpenCaseAsync();
        return id;
    }
}

[Collection<OnSqlite>]
public sealed class TamperTestsOnSqlite(SqliteClinic clinic) : TamperTests(clinic);

[Collection<OnPostgres>]
public sealed class TamperTestsOnPostgres(PostgresClinic clinic) : TamperTests(clinic);
