using System.Globalization;
using System.Net;
using System.Net.Http.Headers;
using System.Text;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Problems;

/// <summary>What can't be taken is refused, by its field, and leaves nothing behind.</summary>
public abstract class BadInputTests(TestClinic clinic)
{
    public static TheoryData<string> Names => [.. BadInputs.All.Keys];

    private Caller Surgeon => clinic.Surgeon;

    [Theory]
    [MemberData(nameof(Names))]
    public async Task Bad_input_is_refused_and_nothing_is_written(string name)
    {
        var bad = BadInputs.All[name];
        var id = await clinic.HalfReadCaseAsync();
        var before = await clinic.Database.WrittenAsync();

        var reply = await Surgeon.PostTextAsync(bad.Path.Replace("{id}", id, StringComparison.Ordinal), bad.Body);

        reply.ExpectProblem(bad.Status, bad.Field);
        (await clinic.Database.WrittenAsync()).ShouldBe(before);
    }

    [Theory]
    [InlineData("text/plain")]
    [InlineData("application/xml")]
    [InlineData("application/x-www-form-urlencoded")]
    [InlineData(null)]
    [InlineData("application/json; charset=no-such-charset")]
    public async Task A_body_of_another_kind_is_refused(string? contentType)
    {
        var before = await clinic.Database.WrittenAsync();
        var content = new ByteArrayContent(Encoding.UTF8.GetBytes(Some.Case().ToJsonString()));
        content.Headers.ContentType = contentType is null ? null : MediaTypeHeaderValue.Parse(contentType);
        (await Surgeon.SendAsync(new HttpRequestMessage(HttpMethod.Post, "/api/cases") { Content = content })).ExpectProblem(415);
        (await clinic.Database.WrittenAsync()).ShouldBe(before);
    }

    [Fact]
    public async Task Bytes_that_are_no_text_are_refused()
    {
        var body = Encoding.UTF8.GetBytes(Some.Case().ToJsonString().Replace("alar crease", "alar # crease", StringComparison.Ordinal));
        body[Array.IndexOf(body, (byte)'#')] = 0xff;
        var content = new ByteArrayContent(body);
        content.Headers.ContentType = new MediaTypeHeaderValue("application/json");
        (await Surgeon.SendAsync(new HttpRequestMessage(HttpMethod.Post, "/api/cases") { Content = content })).ExpectProblem(400);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task A_body_over_a_mebibyte_is_refused(bool lengthIsSaid)
    {
        var before = await clinic.Database.WrittenAsync();
        var body = Some.Case().With("twelveOClock", new string('x', 1024 * 1024)).ToJsonString();
        HttpContent content = lengthIsSaid ? new StringContent(body) : new StreamContent(new MemoryStream(Encoding.UTF8.GetBytes(body)));
        content.Headers.ContentType = new MediaTypeHeaderValue("application/json");
        var request = new HttpRequestMessage(HttpMethod.Post, "/api/cases") { Content = content };
        request.Headers.TransferEncodingChunked = !lengthIsSaid;
        request.Headers.ExpectContinue = true;
        (await Surgeon.SendAsync(request)).ExpectProblem(413);
        (await clinic.Database.WrittenAsync()).ShouldBe(before);
    }

    [Theory]
    [InlineData("text/html")]
    [InlineData("image/png")]
    [InlineData("application/json")]
    [InlineData("*/*")]
    public async Task A_refusal_is_a_problem_whatever_the_caller_accepts(string accept)
    {
        var id = await Surgeon.OpenCaseAsync();
        (await Surgeon.GetAsync($"/api/cases/{id}/margins?afterStage=9", ("Accept", accept))).ExpectProblem(400, "afterStage");
        (await Surgeon.GetAsync($"/api/cases/{Guid.NewGuid()}", ("Accept", accept))).ExpectProblem(404);
        (await Surgeon.GetAsync("/api/nowhere", ("Accept", accept))).ExpectProblem(404);
        (await Surgeon.PostAsync($"/api/cases/{id}/end", Some.EndCleared(), ("Accept", accept))).ExpectProblem(409);
        (await clinic.Manager.GetAsync($"/api/cases/{id}", ("Accept", accept))).ExpectProblem(403);
        (await clinic.Stranger.GetAsync($"/api/cases/{id}", ("Accept", accept))).ExpectProblem(401);
    }

    [Fact]
    public async Task The_largest_values_are_taken()
    {
        var text = new string('x', 4000);
        var id = await Surgeon.OpenCaseAsync(Some.Case().With("patientRef", new string('p', 64)).With("site.detail", new string('d', 200)).With("caseNumber", $"{Guid.NewGuid():N}"[..20]));
        var layer = Some.WholeLayer();
        layer["pieces"]![0]!["outline"]!["ellipse"]!["lengthMm"] = 300;
        layer["pieces"]![0]!["outline"]!["ellipse"]!["widthMm"] = 0.001m;
        (await Surgeon.RecordAsync(id, layer)).Expect(201).At("pieces[0].outline.ellipse.widthMm").ShouldBeJson("0.001");
        (await Surgeon.ReadAsync(id, 1, "A", Some.Clear().With("note", text))).Expect(201).Text("note").ShouldBe(text);
        (await Surgeon.RecordAsync(id, Some.Rim("01:00", "02:00").With("reasonForUnread", text))).Expect(201).Text("reasonForUnread").ShouldBe(text);
        (await Surgeon.EndAsync(id, Some.Json("""{ "outcome": "stoppedNotCleared" }""").With("reason", text).With("plan", text))).Expect(200);
    }

    [Fact]
    public async Task A_trace_of_5000_points_is_taken()
    {
        var id = await Surgeon.OpenCaseAsync();
        var layer = Some.Json($$"""{ "pieces": [ { "kind": "whole", "outline": { "trace": {{BadInputs.Circle(5000)}} } } ] }""");
        (await Surgeon.RecordAsync(id, layer)).Expect(201).At("pieces[0].outline.trace")!.AsArray().Count.ShouldBe(5000);

        // Closed form: a circle of radius 40 mm.
        (await Surgeon.MarginsAsync(id)).At("defect.areaMm2")!.GetValue<double>().ShouldBe(Math.PI * 1600, 0.005 * 5027);
    }

    [Fact]
    public async Task A_case_has_40_stages_and_a_stage_52_blocks_and_no_more()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        for (var stage = 2; stage <= 40; stage++)
        {
            var layer = Some.Rim("01:00", "02:00").With("reasonForUnread", "x").With("takenAt", $"2026-03-03T10:{stage:00}:00-05:00");
            (await Surgeon.RecordAsync(id, layer)).Expect(201).Number("number").ShouldBe(stage);
        }

        (await Surgeon.RecordAsync(id, Some.Rim("03:00", "04:00").With("reasonForUnread", "x"))).ExpectProblem(400);
        for (var block = 1; block < 52; block++)
        {
            (await Surgeon.PostAsync($"/api/cases/{id}/stages/40/blocks", Some.Block(BadInputs.Label(block), "01:00", "02:00"))).Expect(201);
        }

        (await Surgeon.PostAsync($"/api/cases/{id}/stages/40/blocks", Some.Block("ZZ", "01:00", "02:00"))).ExpectProblem(400);
        var read = await Surgeon.CaseAsync(id);
        read.At("stages")!.AsArray().Count.ShouldBe(40);
        read.At("stages[39].blocks")!.AsArray().Count.ShouldBe(52);
    }

    [Theory]
    [InlineData("x y")]
    [InlineData("x\ty")]
    [InlineData("201")]
    public async Task An_idempotency_key_that_won_t_do_is_named(string key)
    {
        var sent = int.TryParse(key, CultureInfo.InvariantCulture, out var length) ? new string('k', length) : key;
        (await Surgeon.PostAsync("/api/cases", Some.Case(), ("Idempotency-Key", sent))).ExpectProblem(400, "Idempotency-Key");
    }

    [Fact]
    public async Task A_body_in_utf_16_is_read_by_its_charset()
    {
        var content = new StringContent(Some.Case().With("site.detail", "hélix").ToJsonString(), Encoding.Unicode, "application/json");
        var reply = await Surgeon.SendAsync(new HttpRequestMessage(HttpMethod.Post, "/api/cases") { Content = content });
        reply.Expect((int)HttpStatusCode.Created).Text("site.detail").ShouldBe("hélix");
    }
}

[Collection<OnSqlite>]
public sealed class BadInputTestsOnSqlite(SqliteClinic clinic) : BadInputTests(clinic);

[Collection<OnPostgres>]
public sealed class BadInputTestsOnPostgres(PostgresClinic clinic) : BadInputTests(clinic);
