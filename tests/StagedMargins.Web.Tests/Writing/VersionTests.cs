using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Writing;

/// <summary>A case has an entity tag, and a write may say which version it was decided on.</summary>
public abstract class VersionTests(TestClinic clinic)
{
    private Caller Surgeon => clinic.Surgeon;

    [Theory]
    [InlineData("\"1\"", 412)]
    [InlineData("\"2\"", 201)]
    [InlineData("\"3\"", 412)]
    [InlineData("*", 201)]
    [InlineData("\"1\", \"2\"", 201)]
    [InlineData("\"1\", \"7\"", 412)]
    [InlineData("2", 412)]
    [InlineData("W/\"2\"", 412)]
    [InlineData("nonsense", 412)]
    public async Task A_write_goes_through_only_on_the_version_it_names(string ifMatch, int status)
    {
        var id = await Surgeon.OpenWithLayerAsync();
        var before = await clinic.Database.WrittenAsync();
        var reply = await Surgeon.ReadAsync(id, 1, "A", Some.Clear(), ("If-Match", ifMatch));
        if (status == 201)
        {
            reply.Expect(201).Header("ETag").ShouldBe("\"3\"");
        }
        else
        {
            reply.ExpectProblem(412);
            (await clinic.Database.WrittenAsync()).ShouldBe(before);
        }
    }

    [Fact]
    public async Task Every_write_under_a_case_heeds_the_version_and_raises_it_by_one()
    {
        var id = await Surgeon.OpenCaseAsync();
        var path = $"/api/cases/{id}";
        var version = 1;
        async Task StepAsync(string part, string body, int status)
        {
            (await Surgeon.PostTextAsync(path + part, body, ("If-Match", $"\"{version - 1}\""))).ExpectProblem(412);
            (await Surgeon.PostTextAsync(path + part, body, ("If-Match", $"\"{version}\""))).Expect(status).Header("ETag").ShouldBe($"\"{++version}\"");
            (await Surgeon.CaseAsync(id)).Header("ETag").ShouldBe($"\"{version}\"");
        }

        await StepAsync("/stages", Some.WholeLayer().ToJsonString(), 201);
        await StepAsync("/stages/1/blocks", Some.Block("C", "01:00", "02:00").ToJsonString(), 201);
        await StepAsync("/stages/1/times", """{ "receivedAt": "2026-03-03T09:14:00-05:00" }""", 200);
        await StepAsync("/stages/1/blocks/A/readings", Some.Clear().ToJsonString(), 201);
        await StepAsync("/stages/1/blocks/B/readings", Some.Clear().ToJsonString(), 201);
        await StepAsync("/stages/1/blocks/C/readings", Some.Clear().With("readerEmail", TestClinic.OtherSurgeonEmail).ToJsonString(), 201);
        var reading = (await Surgeon.CaseAsync(id)).Text("stages[0].blocks[2].readings[0].id");
        (await clinic.OtherSurgeon.PostTextAsync($"{path}/readings/{reading}/countersign", "", ("If-Match", "\"1\""))).ExpectProblem(412);
        (await clinic.OtherSurgeon.PostTextAsync($"{path}/readings/{reading}/countersign", "", ("If-Match", $"\"{version++}\""))).Expect(200);
        await StepAsync("/measured-defect", """{ "lengthMm": 14, "widthMm": 10 }""", 200);
        await StepAsync("/end", Some.EndCleared().ToJsonString(), 200);
    }

    [Fact]
    public async Task Of_two_who_saw_the_same_version_one_is_told_to_look_again()
    {
        var id = await Surgeon.OpenClearAsync();
        var seen = (await Surgeon.CaseAsync(id)).Header("ETag")!;
        var replies = await Task.WhenAll(
            Surgeon.RecordAsync(id, Some.Rim("01:00", "02:00"), ("If-Match", seen)),
            clinic.Histotech.RecordAsync(id, Some.Rim("03:00", "04:00"), ("If-Match", seen)));
        replies.Select(reply => reply.Status).Order().ShouldBe([201, 412]);
    }
}

[Collection<OnSqlite>]
public sealed class VersionTestsOnSqlite(SqliteClinic clinic) : VersionTests(clinic);

[Collection<OnPostgres>]
public sealed class VersionTestsOnPostgres(PostgresClinic clinic) : VersionTests(clinic);
