using System.Text;
using System.Text.Json.Nodes;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Core.Entries;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Storage.Ledger;

/// <summary>What names or describes a patient in words can't be read in the database without the keys, and is gone with its data key.</summary>
public abstract class StolenDatabaseTests(TestClinic clinic)
{
    private const string Word = "qzwort";

    private Caller Surgeon => clinic.Surgeon;

    [Fact]
    public async Task No_table_holds_a_word_about_a_patient_in_the_clear()
    {
        await PlayAsync();
        await using var db = clinic.Database.NewContext();
        foreach (var table in db.Model.GetEntityTypes().Select(type => type.GetTableName()!).Distinct())
        {
            await using var connection = await clinic.Database.OpenAsync();
            await using var command = connection.CreateCommand();
            command.CommandText = $"SELECT * FROM \"{table}\"";
            await using var rows = await command.ExecuteReaderAsync(TestContext.Current.CancellationToken);
            while (await rows.ReadAsync(TestContext.Current.CancellationToken))
            {
                for (var i = 0; i < rows.FieldCount; i++)
                {
                    var text = rows.GetValue(i) is byte[] bytes ? Encoding.Latin1.GetString(bytes) : rows.GetValue(i).ToString()!;
                    text.ShouldNotContain(Word, Case.Insensitive, $"{table}.{rows.GetName(i)}");
                }
            }
        }
    }

    [Fact]
    public async Task Whoever_may_see_the_case_reads_every_word()
    {
        var id = await PlayAsync();
        var words = (await Surgeon.CaseAsync(id)).Body + (await Surgeon.GetAsync($"/api/cases/{id}/history")).Expect(200).Body;
        for (var number = 1; number <= 14; number++)
        {
            words.ShouldContain($"{Word}{number:00}");
        }

        (await Surgeon.GetAsync("/api/cases")).Expect(200).Body.ShouldContain($"{Word}01");
    }

    [Fact]
    public async Task Without_its_data_key_the_words_are_gone_and_the_record_stands()
    {
        var id = await PlayAsync();
        var margins = (await Surgeon.MarginsAsync(id)).Body;
        await clinic.Database.ExecuteAsync($"DELETE FROM data_keys WHERE subject_id = {clinic.Database.Literal(id)}");
        await using var again = ServiceHost.Start(clinic.Database);
        var surgeon = again.Stranger().With(Surgeon.Token);
        var seen = await surgeon.CaseAsync(id);
        seen.Body.ShouldNotContain(Word);
        seen.Text("patientRef").ShouldBe("(forgotten)");
        (await surgeon.MarginsAsync(id)).Body.ShouldBe(margins);
        (await surgeon.GetAsync("/api/cases")).Expect(200).Body.ShouldContain("(forgotten)");
        (await surgeon.GetAsync($"/api/cases/{id}/history")).Expect(200).At("chain.intact").ShouldBeJson("true");
        (await surgeon.GetAsync($"/api/cases/{id}/record.pdf")).Expect(200);
        (await surgeon.PostAsync($"/api/cases/{id}/facts", new JsonObject { ["weightKg"] = 71, ["reason"] = "weighed" })).ExpectProblem(409).Text("type").ShouldEndWith("forgotten");
    }

    [Fact]
    public void Every_text_of_a_form_is_words_or_a_code()
    {
        string[] codes =
        [
            "CaseOpened.CaseNumber", "CaseImported.Sha256", "CaseImported.CaseNumberThere", "CaseImported.CaseNumber", "SitePhotoAdded.ContentType", "SitePhotoAdded.Sha256",
            "ReadingRecorded.Block", "ReadingAmended.Block", "PermanentSectionSent.Block", "PermanentSectionReported.Block", "SecondReadAsked.Block",
            "RecordedSite.Code", "RecordedBlock.Label", "RecordedBlock.Cassette", "RecordedBlock.Replaces", "RaisedReview.Block", "StageCorrected.ChangedBlocks", "Tumour.Morphology", "RiskAssessment.RuleVersion", "TCategory.T",
        ];
        var found = CaseEntryKind.All.SelectMany(kind => TextsIn(kind.Event, [])).Distinct().Order(StringComparer.Ordinal).ToList();
        found.Except(codes).ShouldBeEmpty();
    }

    private static IEnumerable<string> TextsIn(Type type, HashSet<Type> seen) => !seen.Add(type) ? [] : type.GetProperties()
        .SelectMany(property => (Nullable.GetUnderlyingType(property.PropertyType) ?? property.PropertyType) switch
        {
            var text when text == typeof(string) => [$"{type.Name}.{property.Name}"],
            var words when words == typeof(Words) || words == typeof(CaseEntryKind) => [],
            { IsGenericType: true } list => list.GetGenericArguments().SelectMany(item => item == typeof(Words) ? [] : item == typeof(string) ? [$"{type.Name}.{property.Name}"] : TextsIn(item, seen)),
            { Namespace: { } space } part when space.StartsWith("StagedMargins", StringComparison.Ordinal) && !part.IsEnum => TextsIn(part, seen),
            _ => [],
        });

    private async Task<string> PlayAsync()
    {
        var count = 0;
        string Next() => $"{Word}{++count:00}";
        var id = await Surgeon.OpenCaseAsync(Some.Case().With("patientRef", Next()).With("site.detail", Next()).With("twelveOClock", Next())
            .With("indications", new JsonArray(Next())).With("areaClass", "L").With("areaClassReason", Next()));
        (await Surgeon.PostAsync($"/api/cases/{id}/site-confirmations", new JsonObject { ["note"] = Next() })).Expect(201);
        var layer = Some.WholeLayer().With("reasonForUnconfirmedSite", Next());
        layer["blocks"]![0]!["fromInk"] = Next();
        (await Surgeon.RecordAsync(id, layer, ("Idempotency-Key", Guid.NewGuid().ToString("N")))).Expect(201);
        (await Surgeon.ReadAsync(id, 1, "A", Some.Clear().With("note", Next()))).Expect(201);
        (await Surgeon.RecordAsync(id, Some.Rim("07:15", "09:15").With("reasonForUnread", Next()))).Expect(201);
        (await Surgeon.PostAsync($"/api/cases/{id}/facts", new JsonObject { ["weightKg"] = 70, ["reason"] = Next() })).Expect(200);
        (await Surgeon.PostAsync($"/api/cases/{id}/stages/1/blocks/A/permanent-section", new JsonObject { ["note"] = Next() })).Expect(201);
        (await Surgeon.EndAsync(id, new JsonObject { ["outcome"] = "stoppedNotCleared", ["reason"] = Next(), ["plan"] = Next() })).Expect(200);
        return id;
    }
}

[Collection<OnSqlite>]
public sealed class StolenDatabaseTestsOnSqlite(SqliteClinic clinic) : StolenDatabaseTests(clinic);

[Collection<OnPostgres>]
public sealed class StolenDatabaseTestsOnPostgres(PostgresClinic clinic) : StolenDatabaseTests(clinic);
