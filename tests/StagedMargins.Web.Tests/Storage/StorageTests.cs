using System.Text.Json.Nodes;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Storage;

public abstract class StorageTests(TestClinic clinic)
{
    private Caller Surgeon => clinic.Surgeon;

    [Theory]
    [InlineData("2026-03-03T09:10:00-05:00")]
    [InlineData("2026-03-03T09:10:00+00:00")]
    [InlineData("2026-03-03T09:10:00+05:30")]
    [InlineData("2026-03-03T23:59:59.123456-03:30")]
    [InlineData("2026-07-01T00:00:00+14:00")]
    [InlineData("2026-07-01T00:00:00-12:00")]
    [InlineData("1900-01-01T00:00:00+00:00")]
    [InlineData("2199-12-31T23:59:59.999999+00:00")]
    public async Task A_time_comes_back_with_the_instant_and_the_offset_it_was_written_with(string time)
    {
        var id = await Surgeon.OpenCaseAsync();
        (await Surgeon.RecordAsync(id, Some.WholeLayer().With("takenAt", time))).Expect(201).Text("takenAt").ShouldBe(time);
        (await Surgeon.PostAsync($"/api/cases/{id}/stages/1/times", new JsonObject { ["receivedAt"] = time, ["slidesReadyAt"] = time })).Expect(200);
        (await Surgeon.ReadAsync(id, 1, "A", Some.Clear().With("readAt", time))).Expect(201);
        (await Surgeon.EndAsync(id, Some.Json("""{ "outcome": "stoppedNotCleared", "reason": "the patient went home", "plan": "another day" }""").With("endedAt", time))).Expect(200);
        var read = await Surgeon.CaseAsync(id);
        foreach (var path in new[] { "stages[0].takenAt", "stages[0].receivedAt", "stages[0].slidesReadyAt", "stages[0].blocks[0].readings[0].readAt", "endedAt", "ending.endedAt" })
        {
            read.Text(path).ShouldBe(time);
        }
    }

    [Fact]
    public async Task A_time_in_utc_may_be_written_with_Z_and_without_seconds()
    {
        var id = await Surgeon.OpenCaseAsync();
        (await Surgeon.RecordAsync(id, Some.WholeLayer().With("takenAt", "2026-03-03T09:10Z"))).Expect(201);
        (await Surgeon.CaseAsync(id)).Text("stages[0].takenAt").ShouldBe("2026-03-03T09:10:00+00:00");
    }

    [Fact]
    public async Task Lengths_are_kept_to_the_micrometre()
    {
        var id = await Surgeon.OpenCaseAsync(Some.Case().With("preOperative.lengthMm", 0.001m).With("preOperative.widthMm", 299.999m).With("tumour.depthMm", 1.2345m));
        var layer = Some.WholeLayer();
        layer["pieces"]![0]!["outline"]!["ellipse"]!["lengthMm"] = 14.2854m;
        layer["pieces"]![0]!["outline"]!["ellipse"]!["widthMm"] = 9.9999m;
        (await Surgeon.RecordAsync(id, layer)).Expect(201);
        var read = await Surgeon.CaseAsync(id);
        read.At("preOperative.lengthMm").ShouldBeJson("0.001");
        read.At("preOperative.widthMm").ShouldBeJson("299.999");
        read.At("tumour.depthMm").ShouldBeJson("1.235");
        read.At("stages[0].pieces[0].outline.ellipse.lengthMm").ShouldBeJson("14.285");
        read.At("stages[0].pieces[0].outline.ellipse.widthMm").ShouldBeJson("10");
    }

    [Fact]
    public async Task The_model_has_no_change_without_a_migration_and_every_migration_is_applied()
    {
        await using var db = clinic.Database.NewContext();
        db.Database.HasPendingModelChanges().ShouldBeFalse();
        (await db.Database.GetPendingMigrationsAsync(TestContext.Current.CancellationToken)).ShouldBeEmpty();
    }

    [Fact]
    public async Task A_second_start_keeps_what_was_written()
    {
        var id = await Surgeon.OpenClearAsync();
        var before = (await Surgeon.CaseAsync(id)).Body;
        var written = await clinic.Database.WrittenAsync();
        await using var again = ServiceHost.Start(clinic.Database);
        (await again.Stranger().With(Surgeon.Token).CaseAsync(id)).Json.ShouldBeJson(before);
        (await clinic.Database.WrittenAsync()).ShouldBe(written);
    }

    [Fact]
    public async Task Without_a_clinic_in_scope_no_case_is_seen()
    {
        await Surgeon.OpenClearAsync();
        await using var db = clinic.Database.NewContext();
        (await db.Cases.AnyAsync(TestContext.Current.CancellationToken)).ShouldBeFalse();
        (await db.Ledger.AnyAsync(TestContext.Current.CancellationToken)).ShouldBeFalse();
        (await db.KeptAnswers.AnyAsync(TestContext.Current.CancellationToken)).ShouldBeFalse();
        (await db.Cases.IgnoreQueryFilters().AnyAsync(TestContext.Current.CancellationToken)).ShouldBeTrue();
    }

    [Fact]
    public async Task Every_table_of_a_clinic_is_led_by_the_clinic_and_filtered_by_it()
    {
        await using var db = clinic.Database.NewContext();
        var ofClinic = db.Model.GetEntityTypes().Where(type => type.FindProperty("ClinicId") is not null && type.GetTableName() != "AspNetUsers").ToList();
        ofClinic.Count.ShouldBeGreaterThan(8);
        foreach (var type in ofClinic)
        {
            type.FindPrimaryKey()!.Properties[0].Name.ShouldBe("ClinicId", type.Name);
            type.GetDeclaredQueryFilters().ShouldNotBeEmpty(type.Name);
        }
    }

    [Fact]
    public async Task A_signature_goes_with_its_own_case()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        var draft = (await clinic.Histotech.ReadAsync(id, 1, "A", Some.Clear())).Expect(201).Text("id");
        (await Surgeon.PostAsync($"/api/cases/{await Surgeon.OpenWithLayerAsync()}/readings/{draft}/countersign", null)).ExpectProblem(404);
    }
}

[Collection<OnSqlite>]
public sealed class StorageTestsOnSqlite(SqliteClinic clinic) : StorageTests(clinic);

[Collection<OnPostgres>]
public sealed class StorageTestsOnPostgres(PostgresClinic clinic) : StorageTests(clinic);
