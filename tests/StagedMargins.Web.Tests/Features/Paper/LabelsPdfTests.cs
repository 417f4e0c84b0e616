using StagedMargins.Web.Tests.Features.Pictures;
using StagedMargins.Web.Tests.Testing;
using UglyToad.PdfPig;

namespace StagedMargins.Web.Tests.Features.Paper;

/// <summary>Labels of blocks over HTTP, read back by an open PDF library (PdfPig); their codes are read where they are drawn.</summary>
public abstract class LabelsPdfTests(TestClinic clinic)
{
    private Caller Surgeon => clinic.Surgeon;

    [Theory]
    [InlineData("", 595)]
    [InlineData("?paper=letter", 612)]
    public async Task Every_block_has_its_label_and_none_names_the_patient(string query, int width)
    {
        var id = await Surgeon.OpenWithLayerAsync();
        var reply = await Surgeon.CaseAsync(id);
        using var sheet = await SheetAsync(id, query);
        ((int)sheet.GetPage(1).Width).ShouldBe(width);
        var words = Words(sheet);
        words.Split($"{reply.Text("caseNumber")} Stage 1").Length.ShouldBe(3);
        words.ShouldContain("Block A");
        words.ShouldContain("Block B");
        words.ShouldNotContain(reply.Text("patientRef"));
        sheet.Information.Title.ShouldBe($"Labels of case {reply.Text("caseNumber")}");
    }

    [Fact]
    public async Task One_stage_alone_and_a_sheet_that_is_used_in_part()
    {
        var id = await Surgeon.OpenClearAsync();
        (await Surgeon.RecordAsync(id, Some.Rim("01:00", "02:00"))).Expect(201);
        (await Surgeon.PostAsync($"/api/cases/{id}/stages/2/blocks", Some.Block("Q", "01:00", "02:00"))).Expect(201);
        using (var second = await SheetAsync(id, "?stage=2"))
        {
            Words(second).ShouldContain("Block Q");
            Words(second).ShouldNotContain("Stage 1");
        }

        using var all = await SheetAsync(id, "?skip=23");
        all.NumberOfPages.ShouldBe(2);
        Words(all).ShouldContain("Stage 1");
        Words(all).ShouldContain("Stage 2");
    }

    [Fact]
    public async Task What_can_not_be_labelled_is_refused_with_its_reason()
    {
        var id = await Surgeon.OpenCaseAsync();
        (await Surgeon.GetAsync($"/api/cases/{id}/labels.pdf")).ExpectProblem(409).Body.ShouldContain("nothing to label");
        (await Surgeon.GetAsync($"/api/cases/{id}/labels.pdf?stage=1")).ExpectProblem(404);
        (await Surgeon.RecordAsync(id, Some.WholeLayer().With("blocks", new System.Text.Json.Nodes.JsonArray()))).Expect(201);
        (await Surgeon.GetAsync($"/api/cases/{id}/labels.pdf?stage=1")).ExpectProblem(409).Body.ShouldContain("Stage 1 has no blocks yet");
        (await Surgeon.PostAsync($"/api/cases/{id}/stages/1/blocks", Some.Block("A", "12:00", "06:00"))).Expect(201);
        (await Surgeon.GetAsync($"/api/cases/{id}/labels.pdf?skip=24")).ExpectProblem(400, "skip");
        (await Surgeon.GetAsync($"/api/cases/{id}/labels.pdf?skip=-1")).ExpectProblem(400, "skip");
        (await Surgeon.GetAsync($"/api/cases/{id}/labels.pdf?paper=a5")).ExpectProblem(400, "paper");
        (await Surgeon.GetAsync($"/api/cases/{Guid.NewGuid()}/labels.pdf")).ExpectProblem(404);
    }

    [Fact]
    public async Task The_codes_lead_to_the_host_that_was_asked_and_a_sheet_kept_for_one_host_is_not_taken_for_another()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        var here = (await Surgeon.GetAsync($"/api/cases/{id}/labels.pdf")).Header("ETag")!;
        (await Surgeon.GetAsync($"/api/cases/{id}/labels.pdf", ("If-None-Match", here))).Status.ShouldBe(304);
        (await Surgeon.GetAsync($"/api/cases/{id}/labels.pdf", ("If-None-Match", here), ("Host", "margins.invalid"))).Status.ShouldBe(200);
        using var sheet = await SheetAsync(id, "");
        Words(sheet).ShouldContain($"The codes open http://{clinic.Host.Address.Authority}");
    }

    [Fact]
    public async Task Who_is_to_read_a_block_blind_gets_no_labels_of_the_case()
    {
        var id = await Surgeon.OpenClearAsync();
        await clinic.AskSecondReadAsync(id);
        (await clinic.OtherSurgeon.GetAsync($"/api/cases/{id}/labels.pdf")).ExpectProblem(409);
    }

    private async Task<PdfDocument> SheetAsync(string id, string query)
    {
        using var answer = await Surgeon.SendRawAsync($"/api/cases/{id}/labels.pdf{query}");
        ((int)answer.StatusCode).ShouldBe(200);
        answer.Content.Headers.ContentDisposition!.ToString().ShouldStartWith("inline; filename=\"labels-");
        return PdfDocument.Open(await answer.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken));
    }

    internal static string Words(PdfDocument sheet) => string.Join(' ', sheet.GetPages().Select(page => UglyToad.PdfPig.DocumentLayoutAnalysis.TextExtractor.ContentOrderTextExtractor.GetText(page)))
        .ReplaceLineEndings(" ");
}

[Collection<OnSqlite>]
public sealed class LabelsPdfTestsOnSqlite(SqliteClinic clinic) : LabelsPdfTests(clinic);

[Collection<OnPostgres>]
public sealed class LabelsPdfTestsOnPostgres(PostgresClinic clinic) : LabelsPdfTests(clinic);

/// <summary>Has a service of its own, for its settings.</summary>
public sealed class LabelsBehindProxyTests(PostgresServer server)
{
    [Theory]
    [InlineData("127.0.0.0/8, ::1/128", "https")]
    [InlineData("10.0.0.0/8", "http")]
    public async Task The_codes_have_the_scheme_that_a_known_proxy_names_and_no_other(string networks, string scheme)
    {
        await using var database = await server.Templates.MigratedAsync(Engine.Sqlite);
        await using var host = ServiceHost.Start(database, null, ("Proxy:KnownNetworks", networks));
        var surgeon = await TestClinic.AddAsync(await TestClinic.FoundAsync(host, "a@clinic.invalid", "Clinic behind a proxy"), host.Stranger(), TestClinic.SurgeonEmail, "surgeon");
        var id = await surgeon.OpenWithLayerAsync();
        using var request = new HttpRequestMessage(HttpMethod.Get, $"/api/cases/{id}/labels.pdf");
        request.Headers.Add("X-Forwarded-Proto", "https");
        request.Headers.Host = "margins.invalid";
        using var answer = await surgeon.SendForBytesAsync(request);
        using var sheet = PdfDocument.Open(await answer.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken));
        LabelsPdfTests.Words(sheet).ShouldContain($"The codes open {scheme}://margins.invalid;");
    }
}
