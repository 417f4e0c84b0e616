using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Features.History;

/// <summary>What is read while others write is the record as it stood at one moment.</summary>
public abstract class OneMomentTests(TestClinic clinic)
{
    private const int Changes = 60;

    [Fact]
    public async Task A_record_that_is_being_written_is_never_said_to_be_broken()
    {
        var id = await clinic.Surgeon.OpenWithLayerAsync();
        var writing = WriteAsync(id);
        var looks = 0;
        while (!writing.IsCompleted)
        {
            var history = (await clinic.Surgeon.GetAsync($"/api/cases/{id}/history")).Expect(200);
            history.At("chain.firstBroken")?.ToJsonString().ShouldBeNull();
            history.Number("chain.checkedEntries").ShouldBe(history.At("entries")!.AsArray().Count);
            (await clinic.Surgeon.GetAsync($"/api/cases/{id}/fhir")).Expect(200);
            looks++;
        }

        await writing;
        looks.ShouldBeGreaterThan(1);
    }

    private async Task WriteAsync(string id)
    {
        for (var i = 0; i < Changes; i++)
        {
            (await clinic.Surgeon.PostAsync($"/api/cases/{id}/anaesthetic", Some.Json("""{ "agent": "lidocaine", "percent": 1, "volumeMl": 0.1, "adrenaline": true }"""))).Expect(201);
        }
    }
}

[Collection<OnSqlite>]
public sealed class OneMomentTestsOnSqlite(SqliteClinic clinic) : OneMomentTests(clinic);

[Collection<OnPostgres>]
public sealed class OneMomentTestsOnPostgres(PostgresClinic clinic) : OneMomentTests(clinic);
