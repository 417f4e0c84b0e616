using System.Globalization;
using System.Text.Json.Nodes;
using StagedMargins.Web.Tests.Features.Pictures;
using StagedMargins.Web.Tests.Testing;
using UglyToad.PdfPig;

namespace StagedMargins.Web.Tests.Features.Cases;

/// <summary>A case as it was known at an entry or a time is the case that was answered then, marked as such.</summary>
public abstract class AsOfTests(TestClinic clinic)
{
    private Caller Surgeon => clinic.Surgeon;

    [Fact]
    public async Task Case_and_margins_as_of_each_entry_are_those_that_were_answered_then()
    {
        var (id, then) = await PlayAsync();
        for (var number = 1; number < then.Count; number++)
        {
            var seen = await Surgeon.GetAsync(Address(id, "", number));
            seen.Version().ShouldBe(number);
            Without(seen.Expect(200)).ShouldBeJson(then[number - 1].Case);
            seen.Number("asOf.number").ShouldBe(number);
            seen.Number("asOf.laterEntries").ShouldBe(then.Count - number);
            Without((await Surgeon.GetAsync(Address(id, "/margins", number))).Expect(200)).ShouldBeJson(then[number - 1].Margins);
        }

        (await Surgeon.GetAsync(Address(id, "", then.Count))).Body.ShouldBe((await Surgeon.CaseAsync(id)).Body);
    }

    [Fact]
    public async Task A_time_shows_every_entry_that_is_not_later()
    {
        var (id, then) = await PlayAsync();
        var times = (await Surgeon.GetAsync($"/api/cases/{id}/history")).Expect(200).At("entries")!.AsArray().Select(entry => entry!["at"]!.GetValue<DateTimeOffset>()).ToList();
        for (var i = 0; i < times.Count - 1; i++)
        {
            var seen = (await Surgeon.GetAsync($"/api/cases/{id}?asOf={Uri.EscapeDataString(times[i].ToString("O", CultureInfo.InvariantCulture))}")).Expect(200);
            seen.Number("asOf.number").ShouldBe(i + 1);
            Without(seen).ShouldBeJson(then[i].Case);
        }

        var utc = times[0].UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss.ffffff'Z'", CultureInfo.InvariantCulture);
        (await Surgeon.GetAsync($"/api/cases/{id}?asOf={utc}")).Expect(200).Number("asOf.number").ShouldBe(1);
        (await Surgeon.GetAsync($"/api/cases/{id}?asOf={times[^1].AddDays(1).UtcDateTime:yyyy-MM-dd'T'HH:mm'Z'}")).Body.ShouldBe(then[^1].Case);
        (await Surgeon.GetAsync($"/api/cases/{id}?asOf={times[0].AddDays(-1).UtcDateTime:yyyy-MM-dd'T'HH:mm'Z'}")).ExpectProblem(404);
    }

    [Theory]
    [InlineData("0")]
    [InlineData("8")]
    [InlineData("99999999999999999999")]
    [InlineData("-1")]
    [InlineData("yesterday")]
    [InlineData("2026-03-03")]
    [InlineData("2026-03-03T09:10:00")]
    [InlineData("2026-13-03T09:10:00Z")]
    [InlineData("%00")]
    public async Task A_moment_that_is_none_is_refused(string asOf)
    {
        var (id, _) = await PlayAsync();
        foreach (var view in (string[])["", "/margins", "/map.svg", "/map.png", "/stages/1/map.svg", "/record.pdf"])
        {
            (await Surgeon.GetAsync($"/api/cases/{id}{view}?asOf={asOf}")).ExpectProblem(400, "asOf");
        }
    }

    [Fact]
    public async Task Map_and_paper_say_that_they_show_an_earlier_moment()
    {
        var (id, _) = await PlayAsync();
        (await Surgeon.GetAsync($"/api/cases/{id}/map.svg")).Expect(200).Body.ShouldNotContain("As it was known");
        var map = (await Surgeon.GetAsync($"/api/cases/{id}/map.svg?asOf=3")).Expect(200);
        map.Body.ShouldContain("As it was known at entry 3");
        map.Body.ShouldNotContain("tumour outstanding");
        (await Surgeon.GetAsync($"/api/cases/{id}/stages/1/map.svg?asOf=3")).Expect(200).Body.ShouldContain("As it was known at entry 3");
        (await Surgeon.GetAsync($"/api/cases/{id}/map.svg?asOf=4")).Expect(200).Header("ETag").ShouldNotBe(map.Header("ETag"));
        (await Surgeon.GetAsync($"/api/cases/{id}/stages/2/map.svg?asOf=3")).ExpectProblem(404);

        var seals = (await Surgeon.GetAsync($"/api/cases/{id}/history")).Expect(200).At("entries")!.AsArray().Select(entry => entry!["hash"]!.GetValue<string>()).ToList();
        using var answer = await Surgeon.SendRawAsync($"/api/cases/{id}/record.pdf?asOf=3");
        using var pdf = PdfDocument.Open(await answer.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken));
        string.Concat(pdf.GetPages().Select(page => page.Text)).Replace(" ", "", StringComparison.Ordinal).ShouldContain(seals[2]);
        foreach (var page in pdf.GetPages())
        {
            page.Text.Replace(" ", "", StringComparison.Ordinal).ShouldContain("Asitwasknownatentry3");
        }
    }

    [Fact]
    public async Task The_target_after_an_earlier_stage_is_widened_by_the_overlap_with_which_the_next_was_planned()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        (await Surgeon.ReadAsync(id, 1, "A", Some.Clear())).Expect(201);
        (await Surgeon.ReadAsync(id, 1, "B", Some.Tumour("07:30", "09:00"))).Expect(201);
        (await Surgeon.RecordAsync(id, Some.Rim("07:15", "09:15"))).Expect(201).Number("overlapMinutes").ShouldBe(15);
        (await clinic.Administrator.PostAsync("/api/clinic", new JsonObject { ["overlapMinutes"] = 30 })).Expect(200);
        try
        {
            (await Surgeon.ReadAsync(id, 2, "A", Some.Tumour("08:00", "08:30"))).Expect(201);
            var earlier = (await Surgeon.GetAsync($"/api/cases/{id}/margins?afterStage=1")).Expect(200);
            earlier.At("peripheral.target").ShouldBeJson("""[{ "from": "07:15", "to": "09:15" }]""");
            (await Surgeon.MarginsAsync(id)).At("peripheral.target").ShouldBeJson("""[{ "from": "07:30", "to": "09:00" }]""");

            // As of an entry before the change, the settings are those that held then.
            (await Surgeon.GetAsync($"/api/cases/{id}/margins?asOf=4")).Expect(200).At("peripheral.target").ShouldBeJson("""[{ "from": "07:15", "to": "09:15" }]""");
        }
        finally
        {
            (await clinic.Administrator.PostAsync("/api/clinic", new JsonObject { ["overlapMinutes"] = 15 })).Expect(200);
        }
    }

    [Fact]
    public async Task An_earlier_map_that_was_clear_says_that_the_case_is_recalled_now()
    {
        var (id, then) = await PlayAsync();
        (await Surgeon.GetAsync($"/api/cases/{id}/map.svg?asOf=6")).Expect(200).Body.ShouldNotContain("Recall:");
        await Surgeon.AmendAsync(id, 1, "B", Some.Tumour("07:30", "09:00"));
        (await Surgeon.GetAsync(Address(id, "/map.svg", then.Count))).Expect(200).Body.ShouldContain("Recall:");
    }

    private static string Address(string id, string view, int number) => string.Create(CultureInfo.InvariantCulture, $"/api/cases/{id}{view}?asOf={number}");

    private static JsonObject Without(Reply seen)
    {
        var json = seen.Json.DeepClone().AsObject();
        json.Remove("asOf").ShouldBeTrue();
        return json;
    }

    // Seven entries, with what was answered after each.
    private async Task<(string Id, IReadOnlyList<(string Case, string Margins)> Then)> PlayAsync()
    {
        var then = new List<(string, string)>();
        var id = await Surgeon.OpenCaseAsync();
        await SeeAsync();
        (await Surgeon.RecordAsync(id, Some.WholeLayer())).Expect(201);
        await SeeAsync();
        (await Surgeon.ReadAsync(id, 1, "A", Some.Clear())).Expect(201);
        await SeeAsync();
        (await Surgeon.ReadAsync(id, 1, "B", Some.Tumour("07:30", "09:00"))).Expect(201);
        await SeeAsync();
        (await Surgeon.PostAsync($"/api/cases/{id}/facts", Some.Json("""{ "weightKg": 70, "reason": "weighed" }"""))).Expect(200);
        await SeeAsync();
        await Surgeon.AmendAsync(id, 1, "B", Some.Clear());
        await SeeAsync();
        (await Surgeon.EndAsync(id, Some.EndCleared())).Expect(200);
        await SeeAsync();
        return (id, then);

        async Task SeeAsync() => then.Add(((await Surgeon.CaseAsync(id)).Body, (await Surgeon.MarginsAsync(id)).Body));
    }
}

[Collection<OnSqlite>]
public sealed class AsOfTestsOnSqlite(SqliteClinic clinic) : AsOfTests(clinic);

[Collection<OnPostgres>]
public sealed class AsOfTestsOnPostgres(PostgresClinic clinic) : AsOfTests(clinic);
