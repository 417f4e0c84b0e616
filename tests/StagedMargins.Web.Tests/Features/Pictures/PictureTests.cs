using System.Buffers.Binary;
using System.Net.Http.Headers;
using System.Xml.Linq;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Features.Pictures;

/// <summary>Maps over HTTP: the file that was asked for, kept by its tag, and no patient reference unless asked.</summary>
public abstract class PictureTests(TestClinic clinic)
{
    private Caller Surgeon => clinic.Surgeon;

    [Theory]
    [InlineData("map.png")]
    [InlineData("stages/1/map.png")]
    public async Task A_png_has_the_width_that_was_asked_for(string picture)
    {
        var id = await clinic.HalfReadCaseAsync();
        foreach (var width in new[] { 200, 1200, 4000 })
        {
            using var answer = await clinic.Surgeon.SendRawAsync($"/api/cases/{id}/{picture}?width={width}");
            answer.Content.Headers.ContentType!.MediaType.ShouldBe("image/png");
            var bytes = await answer.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken);
            bytes[..8].ShouldBe([0x89, (byte)'P', (byte)'N', (byte)'G', 0x0d, 0x0a, 0x1a, 0x0a]);
            BinaryPrimitives.ReadInt32BigEndian(bytes.AsSpan(16)).ShouldBe(width);
        }
    }

    [Theory]
    [InlineData("map.svg")]
    [InlineData("stages/1/map.svg")]
    public async Task An_svg_is_well_formed_and_says_its_case(string picture)
    {
        var id = await clinic.HalfReadCaseAsync();
        var reply = (await Surgeon.GetAsync($"/api/cases/{id}/{picture}")).Expect(200);
        reply.MediaType.ShouldBe("image/svg+xml");
        var root = XDocument.Parse(reply.Body).Root!;
        root.Name.LocalName.ShouldBe("svg");
        root.Elements().First(element => element.Name.LocalName == "title").Value.ShouldContain((await Surgeon.CaseAsync(id)).Text("caseNumber"));
    }

    [Fact]
    public async Task What_is_clear_and_not_signed_is_not_called_cleared_on_the_map()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        (await clinic.Histotech.ReadAsync(id, 1, "A", Some.Clear())).Expect(201);
        var draft = (await clinic.Histotech.ReadAsync(id, 1, "B", Some.Clear())).Expect(201).Text("id");
        (await Surgeon.GetAsync($"/api/cases/{id}/map.svg")).Expect(200).Body.ShouldContain("Clear as marked, readings not signed: 2");
        (await Surgeon.GetAsync($"/cases/{id}")).Expect(200).Body.ShouldContain("Clear as marked, readings not signed: 2");
        (await Surgeon.PostAsync($"/api/cases/{id}/readings/{draft}/countersign", null)).Expect(200);
        (await Surgeon.GetAsync($"/api/cases/{id}/map.svg")).Expect(200).Body.ShouldContain("Clear as marked, readings not signed: 1");
        var first = (await Surgeon.CaseAsync(id)).Text("stages[0].blocks[0].readings[0].id");
        (await Surgeon.PostAsync($"/api/cases/{id}/readings/{first}/countersign", null)).Expect(200);
        (await Surgeon.GetAsync($"/api/cases/{id}/map.svg")).Expect(200).Body.ShouldNotContain("not signed");
    }

    [Fact]
    public async Task A_side_that_was_changed_after_the_site_was_confirmed_is_said_on_map_page_and_paper()
    {
        var id = await Surgeon.OpenCaseAsync();
        await Surgeon.ConfirmSiteAsync(id, clinic.Histotech);
        (await Surgeon.RecordAsync(id, Some.WholeLayer())).Expect(201);
        (await Surgeon.GetAsync($"/api/cases/{id}/map.svg")).Expect(200).Body.ShouldNotContain("was corrected after");
        (await Surgeon.PostAsync($"/api/cases/{id}/facts", Some.Json("""{ "site": { "side": "midline" }, "reason": "typed wrongly" }"""))).Expect(200);
        foreach (var address in (string[])[$"/api/cases/{id}/map.svg", $"/cases/{id}", "/"])
        {
            (await Surgeon.GetAsync(address)).Expect(200).Body.ShouldContain("was corrected after it had been confirmed", Case.Sensitive, address);
        }
    }

    [Fact]
    public async Task A_picture_answers_304_until_the_case_changes()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        using var first = await Surgeon.SendRawAsync($"/api/cases/{id}/map.png");
        var tag = first.Headers.ETag!;
        using (var again = await Surgeon.SendRawAsync($"/api/cases/{id}/map.png", tag))
        {
            ((int)again.StatusCode).ShouldBe(304);
        }

        (await Surgeon.ReadAsync(id, 1, "A", Some.Clear())).Expect(201);
        using var changed = await Surgeon.SendRawAsync($"/api/cases/{id}/map.png", tag);
        ((int)changed.StatusCode).ShouldBe(200);
        changed.Headers.ETag.ShouldNotBe(tag);
    }

    [Fact]
    public async Task The_cumulative_map_can_be_stepped_back_through_the_stages()
    {
        var id = await Surgeon.OpenClearAsync();
        (await Surgeon.RecordAsync(id, Some.Rim("01:00", "02:00"))).Expect(201);
        var first = (await Surgeon.GetAsync($"/api/cases/{id}/map.svg?afterStage=1")).Expect(200).Body;
        (await Surgeon.GetAsync($"/api/cases/{id}/map.svg")).Expect(200).Body.ShouldNotBe(first);
        (await Surgeon.GetAsync($"/api/cases/{id}/map.svg?afterStage=3")).ExpectProblem(404);
    }

    [Theory]
    [InlineData("map.png?width=199", 400)]
    [InlineData("map.png?width=4001", 400)]
    [InlineData("map.svg?width=wide", 400)]
    [InlineData("map.svg?view=mirror", 400)]
    [InlineData("stages/1/map.png?view=Slide", 400)]
    [InlineData("stages/2/map.png", 404)]
    public async Task A_picture_that_can_not_be_is_refused(string picture, int status)
    {
        var id = await clinic.HalfReadCaseAsync();
        (await Surgeon.GetAsync($"/api/cases/{id}/{picture}")).ExpectProblem(status);
        (await clinic.Stranger.GetAsync($"/api/cases/{id}/{picture}")).ExpectProblem(401);
        (await clinic.Manager.GetAsync($"/api/cases/{id}/{picture}")).ExpectProblem(403);
    }

    [Theory]
    [InlineData("map.svg")]
    [InlineData("stages/1/map.svg")]
    public async Task A_map_is_seen_from_the_skin_unless_the_slide_view_is_asked_for_and_says_which(string picture)
    {
        var id = await clinic.HalfReadCaseAsync();
        using var usual = await clinic.Surgeon.SendRawAsync($"/api/cases/{id}/{picture}");
        using var slide = await clinic.Surgeon.SendRawAsync($"/api/cases/{id}/{picture}?view=slide");
        slide.Headers.ETag.ShouldNotBe(usual.Headers.ETag);
        (await slide.Content.ReadAsStringAsync(TestContext.Current.CancellationToken)).ShouldContain("Slide view: mirrored; 3 o'clock on the left");
        var words = await usual.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
        words.ShouldContain("Patient view: 3 o'clock on the right");
        words.ShouldNotContain("Slide view");
        (await Surgeon.GetAsync($"/api/cases/{id}/{picture}?view=patient")).Expect(200).Body.ShouldBe(words);
    }

    [Fact]
    public async Task A_layer_is_drawn_before_it_is_recorded_and_nothing_is_written()
    {
        var id = await Surgeon.OpenClearAsync();
        var before = (await Surgeon.CaseAsync(id)).Version();
        var drawn = (await Surgeon.PostAsync($"/api/cases/{id}/stages/rehearsal/map.svg", Some.Rim("01:00", "02:00"))).Expect(200);
        XDocument.Parse(drawn.Body).Root!.Name.LocalName.ShouldBe("svg");
        (await Surgeon.CaseAsync(id)).Version().ShouldBe(before);
    }
}

/// <summary>A request whose answer is not text.</summary>
internal static class RawRequests
{
    internal static Task<HttpResponseMessage> SendRawAsync(this Caller caller, string path, EntityTagHeaderValue? known = null)
    {
        var request = new HttpRequestMessage(HttpMethod.Get, path);
        if (known is not null)
        {
            request.Headers.IfNoneMatch.Add(known);
        }

        return caller.SendForBytesAsync(request);
    }
}

[Collection<OnSqlite>]
public sealed class PictureTestsOnSqlite(SqliteClinic clinic) : PictureTests(clinic);

[Collection<OnPostgres>]
public sealed class PictureTestsOnPostgres(PostgresClinic clinic) : PictureTests(clinic);
