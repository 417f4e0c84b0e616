using System.Globalization;
using System.Text;
using System.Text.Json.Nodes;
using Microsoft.Extensions.Time.Testing;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Features.Cases;

public abstract class CaseListTests(TestClinic clinic)
{
    private static int numbers;

    private Caller Surgeon => clinic.Surgeon;

    [Fact]
    public async Task An_item_has_the_fields_of_its_case_and_the_newest_comes_first()
    {
        var older = await Surgeon.OpenCaseAsync();
        var id = await Surgeon.OpenClearAsync();
        var page = (await Surgeon.GetAsync("/api/cases?limit=2")).Expect(200);
        page.Json.Fields().ShouldBe(["items", "next"]);
        page.At("items")!.AsArray().Select(Id).ShouldBe([id, older]);
        var read = await Surgeon.CaseAsync(id);
        foreach (var field in new[] { "id", "caseNumber", "patientRef", "surgeonEmail", "status", "outcome", "recall", "site", "openedAt" })
        {
            page.At($"items[0].{field}").ShouldBeJson(read.At(field)?.ToJsonString() ?? "null");
        }

        page.Text("items[0].state").ShouldBe("cleared");
        page.Number("items[0].stageCount").ShouldBe(1);
    }

    [Fact]
    public async Task Pages_over_cases_opened_at_the_same_instant_lose_none_and_repeat_none()
    {
        var clock = new FakeTimeProvider(DateTimeOffset.Parse("2018-05-04T12:00:00Z", CultureInfo.InvariantCulture));
        await using var host = ServiceHost.Start(clinic.Database, clock);
        var caller = await host.Stranger().SignInAsync(TestClinic.HistotechEmail, TestClinic.Password);
        var tag = Tag();
        var opened = new List<string>();
        for (var i = 0; i < 125; i++)
        {
            opened.Add(await caller.OpenCaseAsync(Some.Case().With("caseNumber", Numbered(tag))));
        }

        foreach (var limit in new[] { 7, 50, 125, 200 })
        {
            var seen = await AllAsync(caller, $"/api/cases?q={tag}&limit={limit}", limit);
            seen.Count.ShouldBe(125);
            seen.ToHashSet().SetEquals(opened).ShouldBeTrue();
        }
    }

    [Fact]
    public async Task A_case_opened_while_one_pages_moves_no_other()
    {
        var tag = Tag();
        var ids = new List<string>();
        for (var i = 0; i < 6; i++)
        {
            ids.Add(await Surgeon.OpenCaseAsync(Some.Case().With("caseNumber", Numbered(tag))));
        }

        var first = (await Surgeon.GetAsync($"/api/cases?q={tag}&limit=3")).Expect(200);
        await Surgeon.OpenCaseAsync(Some.Case().With("caseNumber", Numbered(tag)));
        var second = (await Surgeon.GetAsync($"/api/cases?q={tag}&limit=3&cursor={first.Text("next")}")).Expect(200);
        first.At("items")!.AsArray().Concat(second.At("items")!.AsArray()).Select(Id).ShouldBe(Enumerable.Reverse(ids));
        second.At("next").ShouldBeNull();
    }

    [Fact]
    public async Task Cases_sort_by_the_instant_whatever_offset_the_clinic_wrote()
    {
        // Over the end of summer time the clinic's clock goes back an hour, so that local times run backwards.
        var tag = Tag();
        var before = await OpenAtAsync("2019-11-03T04:30:00Z", tag);
        var after = await OpenAtAsync("2019-11-03T05:10:00Z", tag);
        var items = (await Surgeon.GetAsync($"/api/cases?q={tag}")).At("items")!.AsArray();
        items.Select(Id).ShouldBe([after, before]);
        items.Select(item => item!["openedAt"]!.GetValue<string>()).ShouldBe(["2019-11-03T01:10:00-04:00", "2019-11-03T01:30:00-03:00"]);
    }

    [Fact]
    public async Task A_day_is_a_day_of_the_clinics_clock_from_its_first_to_its_last_instant()
    {
        var tag = Tag();
        var late = await OpenAtAsync("2019-01-15T03:59:59.999Z", tag);
        var first = await OpenAtAsync("2019-01-15T04:00:00Z", tag);
        var last = await OpenAtAsync("2019-01-16T03:59:59.999Z", tag);
        var next = await OpenAtAsync("2019-01-16T04:00:00Z", tag);
        (await IdsAsync($"q={tag}&from=2019-01-15&to=2019-01-15")).ShouldBe([last, first]);
        (await IdsAsync($"q={tag}&from=2019-01-16")).ShouldBe([next]);
        (await IdsAsync($"q={tag}&to=2019-01-14")).ShouldBe([late]);
        (await IdsAsync($"q={tag}&from=2019-01-16&to=2019-01-14")).ShouldBeEmpty();
    }

    [Fact]
    public async Task The_list_is_filtered_by_status_surgeon_and_site()
    {
        var tag = Tag();
        var open = await Surgeon.OpenCaseAsync(Some.Case().With("caseNumber", Numbered(tag)).With("site.code", "C44.1"));
        var others = await Surgeon.OpenCaseAsync(Some.Case().With("caseNumber", Numbered(tag)).With("surgeonEmail", TestClinic.OtherSurgeonEmail).With("site.code", "C60.9"));
        var ended = await Surgeon.OpenCaseAsync(Some.Case().With("caseNumber", Numbered(tag)).With("site.code", "C44.2"));
        (await Surgeon.EndAsync(ended, Some.Json("""{ "outcome": "notDone", "reason": "the patient went home" }"""))).Expect(200);
        (await IdsAsync($"q={tag}&status=open")).ShouldBe([others, open]);
        (await IdsAsync($"q={tag}&status=ended")).ShouldBe([ended]);
        (await IdsAsync($"q={tag}&surgeon={TestClinic.OtherSurgeonEmail}")).ShouldBe([others]);
        (await IdsAsync($"q={tag}&surgeon={TestClinic.SurgeonEmail.ToUpperInvariant()}")).ShouldBe([ended, open]);
        (await IdsAsync($"q={tag}&site=C44")).ShouldBe([ended, open]);
        (await IdsAsync($"q={tag}&site=C44.1")).ShouldBe([open]);
        (await IdsAsync($"q={tag}&site=C44.1&status=ended")).ShouldBeEmpty();
        (await IdsAsync($"q={tag}&status=&site=&surgeon=&from=&to=&cursor=")).ShouldBe([ended, others, open]);
    }

    [Theory]
    [InlineData("%")]
    [InlineData("_")]
    [InlineData("%25%25")]
    public async Task A_wildcard_alone_finds_only_itself(string sign)
    {
        await Surgeon.OpenCaseAsync();
        var sought = Uri.UnescapeDataString(sign);
        foreach (var id in await AllAsync(Surgeon, $"/api/cases?q={Uri.EscapeDataString(sought)}", 50))
        {
            var read = await Surgeon.CaseAsync(id);
            read.Text("caseNumber").ShouldContain(sought);
        }

        (await Surgeon.GetAsync($"/api/cases?site={Uri.EscapeDataString(sought)}")).At("items")!.AsArray().ShouldBeEmpty();
    }

    [Fact]
    public async Task A_case_is_found_by_part_of_its_number_and_never_by_its_patient_reference()
    {
        var number = $"Q-{Guid.NewGuid():N}"[..20];
        var body = Some.Case().With("caseNumber", number).With("patientRef", $"P{Guid.NewGuid():N}");
        var id = await Surgeon.OpenCaseAsync(body);
        (await IdsAsync($"q={number[3..].ToUpperInvariant()}")).ShouldBe([id]);
        (await IdsAsync($"q={body["patientRef"]}")).ShouldBeEmpty();
    }

    [Theory]
    [InlineData("limit=0", "limit")]
    [InlineData("limit=201", "limit")]
    [InlineData("limit=-1", "limit")]
    [InlineData("limit=many", "limit")]
    [InlineData("limit=99999999999", "limit")]
    [InlineData("status=closed", "status")]
    [InlineData("status=Open", "status")]
    [InlineData("status=open&status=ended", "status")]
    [InlineData("from=yesterday", "from")]
    [InlineData("from=2026-02-30", "from")]
    [InlineData("to=2026-3-3", "to")]
    [InlineData("to=9999-12-31", "to")]
    [InlineData("surgeon=nobody@clinic.invalid", "surgeon")]
    [InlineData("surgeon=l.hollowmere@clinic.invalid", "surgeon")]
    [InlineData("cursor=nonsense", "cursor")]
    [InlineData("cursor=!!!", "cursor")]
    [InlineData("cursor=MTIz", "cursor")]
    [InlineData("cursor=LTEgMjAyNi0wMDAx", "cursor")]
    [InlineData("cursor=OTk5OTk5OTk5OTk5OTk5OTk5OSAx", "cursor")]
    [InlineData("q=%00", "q")]
    [InlineData("site=C44%00", "site")]
    public async Task A_question_that_can_t_be_answered_names_its_field(string query, string field) =>
        (await Surgeon.GetAsync($"/api/cases?{query}")).ExpectProblem(400, field);

    [Fact]
    public async Task A_long_search_is_refused()
    {
        (await Surgeon.GetAsync($"/api/cases?q={new string('x', 201)}")).ExpectProblem(400, "q");
        (await Surgeon.GetAsync($"/api/cases?q={new string('x', 200)}")).Expect(200);
    }

    [Theory]
    [InlineData("0 2026-0001")]
    [InlineData("3155378975999999999 2026-0001")]
    [InlineData("638000000000000000 \ufffd")]
    [InlineData("638000000000000000 ")]
    [InlineData("638000000000000000 '; DROP TABLE cases; --")]
    public async Task A_made_up_cursor_does_no_harm(string content)
    {
        var cursor = Convert.ToBase64String(Encoding.UTF8.GetBytes(content)).TrimEnd('=').Replace('+', '-').Replace('/', '_');
        (await Surgeon.GetAsync($"/api/cases?cursor={cursor}")).Status.ShouldBeOneOf(200, 400);
    }

    private static string Tag() => $"t{Guid.NewGuid():N}"[..12];

    private static string Numbered(string tag) => string.Create(CultureInfo.InvariantCulture, $"{tag}-{Interlocked.Increment(ref numbers)}");

    private static string Id(JsonNode? item) => item!["id"]!.GetValue<string>();

    private async Task<string> OpenAtAsync(string instant, string tag)
    {
        var clock = new FakeTimeProvider(DateTimeOffset.Parse(instant, CultureInfo.InvariantCulture));
        await using var host = ServiceHost.Start(clinic.Database, clock);
        var caller = await host.Stranger().SignInAsync(TestClinic.HistotechEmail, TestClinic.Password);
        return await caller.OpenCaseAsync(Some.Case().With("caseNumber", Numbered(tag)));
    }

    private async Task<IEnumerable<string>> IdsAsync(string query) => (await Surgeon.GetAsync($"/api/cases?{query}")).Expect(200).At("items")!.AsArray().Select(Id);

    private static async Task<List<string>> AllAsync(Caller caller, string address, int limit)
    {
        var seen = new List<string>();
        for (string? cursor = ""; cursor is not null;)
        {
            var page = (await caller.GetAsync($"{address}&cursor={cursor}")).Expect(200);
            var ids = page.At("items")!.AsArray().Select(Id).ToList();
            cursor = page.At("next")?.GetValue<string>();
            ids.Count.ShouldBeLessThanOrEqualTo(limit);
            (cursor is null || ids.Count == limit).ShouldBeTrue("Only the last page is short.");
            seen.AddRange(ids);
        }

        seen.Distinct().Count().ShouldBe(seen.Count);
        return seen;
    }
}

[Collection<OnSqlite>]
public sealed class CaseListTestsOnSqlite(SqliteClinic clinic) : CaseListTests(clinic);

[Collection<OnPostgres>]
public sealed class CaseListTestsOnPostgres(PostgresClinic clinic) : CaseListTests(clinic);
