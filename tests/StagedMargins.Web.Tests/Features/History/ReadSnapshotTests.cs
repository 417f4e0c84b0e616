using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Features.History;

/// <summary>What is read while others write is the record as it stood at one moment.</summary>
public abstract class ReadSnapshotTests(TestClinic clinic)
{
    private const int PageAppearance = 12;

    [Fact]
    public async Task A_record_that_is_being_written_is_never_said_to_be_broken()
    {
        var id = await clinic.Surgeon.OpenWithLayerAsync();
        var hasLooked = false;
        var writing = WriteAsync(id, () => !hasLooked);
        try
        {
            for (var look = 0; look < PageAppearance; look++)
            {
                var history = (await clinic.Surgeon.GetAsync($"/api/cases/{id}/history")).Expect(200);
                history.At("chain.firstBroken")?.ToJsonString().ShouldBeNull();
                history.Number("chain.checkedEntries").ShouldBe(history.At("entries")!.AsArray().Count);
                (await clinic.Surgeon.GetAsync($"/api/cases/{id}/fhir")).Expect(200);
            }
        }
        finally
        {
            hasLooked = true;
        }

        (await writing).ShouldBeGreaterThan(0);
    }

    private async Task<int> WriteAsync(string id, Func<bool> goesOn)
    {
        var written = 0;
        for (; goesOn(); written++)
        {
            (await clinic.Surgeon.PostAsync($"/api/cases/{id}/stages/1/times", Some.Json($$"""{ "receivedAt": "2026-03-03T09:14:{{written % 60:00}}-05:00" }"""))).Expect(200);
        }

        return written;
    }
}

[Collection<OnSqlite>]
public sealed class ReadSnapshotTestsOnSqlite(SqliteClinic clinic) : ReadSnapshotTests(clinic);

[Collection<OnPostgres>]
public sealed class ReadSnapshotTestsOnPostgres(PostgresClinic clinic) : ReadSnapshotTests(clinic);
