using System.Text;
using StagedMargins.Web.Tests.Features.Pictures;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Features.Paper;

/// <summary>The record on paper over HTTP; what stands on its pages is tested where they are drawn.</summary>
public abstract class RecordPdfTests(TestClinic clinic)
{
    private Caller Surgeon => clinic.Surgeon;

    [Theory]
    [InlineData("", "/MediaBox [0 0 595")]
    [InlineData("?paper=a4", "/MediaBox [0 0 595")]
    [InlineData("?paper=letter", "/MediaBox [0 0 612 792]")]
    public async Task The_record_comes_as_pdf_on_the_paper_that_was_asked_for(string query, string box)
    {
        var id = await clinic.HalfReadCaseAsync();
        using var answer = await Surgeon.SendRawAsync($"/api/cases/{id}/record.pdf{query}");
        answer.Content.Headers.ContentType!.MediaType.ShouldBe("application/pdf");
        var file = Encoding.Latin1.GetString(await answer.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken));
        file.ShouldStartWith("%PDF-");
        file.TrimEnd().ShouldEndWith("%%EOF");
        file.ShouldContain(box);
    }

    [Fact]
    public async Task The_name_of_the_file_is_the_case_and_not_the_patient()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        var number = (await Surgeon.CaseAsync(id)).Text("caseNumber");
        using var answer = await Surgeon.SendRawAsync($"/api/cases/{id}/record.pdf");
        answer.Content.Headers.ContentDisposition!.ToString().ShouldBe($"inline; filename=\"record-{number}.pdf\"");
    }

    [Fact]
    public async Task The_record_answers_304_until_the_case_changes_and_each_paper_has_a_tag_of_its_own()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        using var first = await Surgeon.SendRawAsync($"/api/cases/{id}/record.pdf");
        var tag = first.Headers.ETag!;
        using (var again = await Surgeon.SendRawAsync($"/api/cases/{id}/record.pdf", tag))
        {
            ((int)again.StatusCode).ShouldBe(304);
        }

        using (var letter = await Surgeon.SendRawAsync($"/api/cases/{id}/record.pdf?paper=letter", tag))
        {
            ((int)letter.StatusCode).ShouldBe(200);
        }

        (await Surgeon.ReadAsync(id, 1, "A", Some.Clear())).Expect(201);
        using var changed = await Surgeon.SendRawAsync($"/api/cases/{id}/record.pdf", tag);
        ((int)changed.StatusCode).ShouldBe(200);
    }

    [Fact]
    public async Task Only_who_may_see_the_case_may_print_it()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        (await clinic.Histotech.GetAsync($"/api/cases/{id}/record.pdf")).Expect(200);
        (await clinic.Stranger.GetAsync($"/api/cases/{id}/record.pdf")).ExpectProblem(401);
        (await clinic.Manager.GetAsync($"/api/cases/{id}/record.pdf")).ExpectProblem(403);
        (await Surgeon.GetAsync($"/api/cases/{Guid.NewGuid()}/record.pdf")).ExpectProblem(404);
        (await Surgeon.GetAsync($"/api/cases/{id}/record.pdf?paper=a5")).ExpectProblem(400);
    }
}

[Collection<OnSqlite>]
public sealed class RecordPdfTestsOnSqlite(SqliteClinic clinic) : RecordPdfTests(clinic);

[Collection<OnPostgres>]
public sealed class RecordPdfTestsOnPostgres(PostgresClinic clinic) : RecordPdfTests(clinic);
