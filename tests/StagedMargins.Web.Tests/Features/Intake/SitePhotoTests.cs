using System.Security.Cryptography;
using System.Text;
using SkiaSharp;
using StagedMargins.Drawing.Tests.Photos;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Features.Intake;

/// <summary>The photo of the marked site over HTTP; what is left of a picture file is tested beside what strips it.</summary>
public abstract class SitePhotoTests(TestClinic clinic)
{
    private Caller Surgeon => clinic.Surgeon;

    [Fact]
    public async Task A_photo_is_kept_upright_without_its_place_and_served_with_its_tag()
    {
        var id = await Surgeon.OpenCaseAsync();
        var file = CameraFile.Jpeg(640, 400, orientation: 6);
        Contains(file, CameraFile.Secret).ShouldBeTrue();
        var added = await clinic.Histotech.AddSitePhotoAsync(id, file);
        added.Header("Location").ShouldBe($"/api/cases/{id}/site-photo");
        added.Number("number").ShouldBe(1);
        added.Text("addedBy").ShouldBe(TestClinic.HistotechEmail);
        added.Text("site.side").ShouldBe("left");
        added.At("holds").ShouldBeJson("true");
        (added.Number("widthPx"), added.Number("heightPx")).ShouldBe((640, 400));

        using var answer = await Surgeon.SendForBytesAsync(new HttpRequestMessage(HttpMethod.Get, $"/api/cases/{id}/site-photo"));
        answer.Content.Headers.ContentType!.MediaType.ShouldBe("image/jpeg");
        answer.Headers.CacheControl!.ToString().ShouldContain("private");
        answer.Headers.CacheControl.NoCache.ShouldBeTrue();
        var served = await answer.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken);
        foreach (var note in new[] { CameraFile.Secret, "Exif", "GPS" })
        {
            Contains(served, note).ShouldBeFalse(note);
        }

        using var seen = SKBitmap.Decode(served);
        seen.GetPixel(8, 8).Red.ShouldBeGreaterThan((byte)240);
        Convert.ToHexStringLower(SHA256.HashData(served)).ShouldBe(added.Text("sha256"));
        (await Surgeon.GetAsync($"/api/cases/{id}/site-photo", ("If-None-Match", answer.Headers.ETag!.ToString()))).Status.ShouldBe(304);
        (await Surgeon.CaseAsync(id)).At("sitePhotos[0]").ShouldBeJson(added.Body);
        var history = (await Surgeon.GetAsync($"/api/cases/{id}/history")).Expect(200);
        history.At("chain.intact").ShouldBeJson("true");
        history.Text("entries[1].what").ShouldBe("addSitePhoto");
        history.Text("entries[1].content.sha256").ShouldBe(added.Text("sha256"));
    }

    [Fact]
    public async Task A_newer_photo_supersedes_and_none_is_deleted()
    {
        var id = await Surgeon.OpenCaseAsync();
        await Surgeon.AddSitePhotoAsync(id, CameraFile.Jpeg(60, 40));
        await Surgeon.AddSitePhotoAsync(id, CameraFile.Jpeg(80, 40));
        Width(await Surgeon.SitePhotoAsync(id)).ShouldBe(80);
        Width(await Surgeon.SitePhotoAsync(id, 1)).ShouldBe(60);
        (await Surgeon.GetAsync($"/api/cases/{id}/site-photo?number=3")).ExpectProblem(404);
        (await Surgeon.CaseAsync(id)).At("sitePhotos")!.AsArray().Count.ShouldBe(2);
    }

    [Fact]
    public async Task A_png_under_another_name_is_taken_by_its_content_from_a_form_too()
    {
        var id = await Surgeon.OpenCaseAsync();
        (await Surgeon.SendSitePhotoFormAsync(id, CameraFile.Png(90, 40), "marked site.jpg")).Expect(201).Text("contentType").ShouldBe("image/jpeg");
        var served = await Surgeon.SitePhotoAsync(id);
        Width(served).ShouldBe(90);
        Contains(served, CameraFile.Secret).ShouldBeFalse();
        (await Surgeon.SendSitePhotoAsync(id, CameraFile.Png(70, 40), "application/octet-stream")).Expect(201);
        Width(await Surgeon.SitePhotoAsync(id)).ShouldBe(70);
    }

    [Fact]
    public async Task What_is_no_photo_is_refused_and_nothing_is_kept()
    {
        var id = await Surgeon.OpenCaseAsync();
        var before = await clinic.Database.WrittenAsync();
        (await Surgeon.SendSitePhotoAsync(id, Encoding.UTF8.GetBytes("A letter."))).ExpectProblem(400, "photo");
        (await Surgeon.SendSitePhotoAsync(id, [])).ExpectProblem(400, "photo");
        (await Surgeon.SendSitePhotoAsync(id, CameraFile.HugePng(60_000, 60_000), "image/png")).ExpectProblem(400, "photo").Text("detail").ShouldContain("50 million");
        (await Surgeon.SendSitePhotoAsync(id, CameraFile.Jpeg(300, 200)[..2000])).ExpectProblem(400, "photo");
        (await Surgeon.SendSitePhotoAsync(id, "--x\r\n\r\n"u8.ToArray(), "multipart/form-data; boundary=x")).ExpectProblem(400, "photo");
        (await Surgeon.SendSitePhotoAsync(id, "--x--"u8.ToArray(), "multipart/form-data; boundary=x")).ExpectProblem(400, "photo");
        (await Surgeon.SendSitePhotoAsync(id, "--x--"u8.ToArray(), "multipart/form-data")).ExpectProblem(400, "photo");
        (await clinic.Database.WrittenAsync()).ShouldBe(before);
        (await Surgeon.GetAsync($"/api/cases/{id}/site-photo")).ExpectProblem(404);
    }

    [Fact]
    public async Task A_photo_may_be_larger_than_other_requests_and_not_without_end()
    {
        var id = await Surgeon.OpenCaseAsync();
        var file = CameraFile.Jpeg(640, 400);
        (await Surgeon.SendSitePhotoAsync(id, [.. file, .. new byte[(9 * 1024 * 1024) - file.Length]])).Expect(201);

        // Asked before it is sent, for the service answers without reading it.
        (await Surgeon.SendSitePhotoAsync(id, [.. file, .. new byte[10 * 1024 * 1024]], "image/jpeg", ("Expect", "100-continue"))).ExpectProblem(413);
        (await Surgeon.PostTextAsync($"/api/cases/{id}/site-confirmations", $"{{ \"note\": \"{new string('x', 1024 * 1024)}\" }}", ("Expect", "100-continue"))).ExpectProblem(413);
    }

    [Fact]
    public async Task A_photo_of_a_site_that_was_corrected_since_says_so()
    {
        var id = await Surgeon.OpenCaseAsync();
        await Surgeon.AddSitePhotoAsync(id, CameraFile.Jpeg(60, 40));
        (await Surgeon.PostAsync($"/api/cases/{id}/facts", Some.Json("""{ "site": { "side": "right" }, "reason": "photo shows the right side" }"""))).Expect(200)
            .At("sitePhotos[0].holds").ShouldBeJson("false");
        await Surgeon.AddSitePhotoAsync(id, CameraFile.Jpeg(60, 40));
        (await Surgeon.CaseAsync(id)).At("sitePhotos[1].holds").ShouldBeJson("true");
    }

    [Fact]
    public async Task The_same_send_again_adds_one_photo_and_an_old_version_none()
    {
        var id = await Surgeon.OpenCaseAsync();
        var file = CameraFile.Jpeg(60, 40);
        (await Surgeon.SendSitePhotoAsync(id, file, "image/jpeg", ("Idempotency-Key", $"p-{id}"))).Expect(201);
        (await Surgeon.SendSitePhotoAsync(id, file, "image/jpeg", ("Idempotency-Key", $"p-{id}"))).Expect(201);
        (await Surgeon.CaseAsync(id)).At("sitePhotos")!.AsArray().Count.ShouldBe(1);
        (await Surgeon.SendSitePhotoAsync(id, file, "image/jpeg", ("If-Match", "\"1\""))).ExpectProblem(412);
    }

    [Fact]
    public async Task A_case_takes_no_photo_after_its_end_and_not_more_than_twenty()
    {
        var ended = await Surgeon.OpenClearAsync();
        (await Surgeon.EndAsync(ended, Some.EndCleared())).Expect(200);
        (await Surgeon.SendSitePhotoAsync(ended, CameraFile.Jpeg(60, 40))).ExpectProblem(409);
        var id = await Surgeon.OpenCaseAsync();
        for (var i = 0; i < 20; i++)
        {
            await Surgeon.AddSitePhotoAsync(id, CameraFile.Jpeg(16, 16));
        }

        (await Surgeon.SendSitePhotoAsync(id, CameraFile.Jpeg(16, 16))).ExpectProblem(400, "photo");
    }

    [Fact]
    public async Task Nobody_of_another_clinic_and_no_other_system_adds_or_sees_one()
    {
        var id = await Surgeon.OpenCaseAsync();
        await Surgeon.AddSitePhotoAsync(id, CameraFile.Jpeg(60, 40));
        var outsider = await OtherClinic.SurgeonAsync(clinic);
        (await outsider.SendSitePhotoAsync(id, CameraFile.Jpeg(60, 40))).ExpectProblem(404);
        (await outsider.GetAsync($"/api/cases/{id}/site-photo")).ExpectProblem(404);
        (await clinic.Manager.SendSitePhotoAsync(id, CameraFile.Jpeg(60, 40))).ExpectProblem(403);
        (await clinic.Manager.GetAsync($"/api/cases/{id}/site-photo")).ExpectProblem(403);
        var token = (await clinic.Administrator.PostAsync("/api/tokens", Some.Json("""{ "name": "Camera", "roles": ["surgeon"] }"""))).Expect(201);
        (await clinic.Stranger.With(token.Text("token")).SendSitePhotoAsync(id, CameraFile.Jpeg(60, 40))).ExpectProblem(403);
        (await clinic.Stranger.SendSitePhotoAsync(id, CameraFile.Jpeg(60, 40))).ExpectProblem(401);
    }

    private static bool Contains(byte[] file, string word) => file.AsSpan().IndexOf(Encoding.ASCII.GetBytes(word)) >= 0;

    private static int Width(byte[] file)
    {
        using var seen = SKBitmap.Decode(file);
        return seen.Width;
    }
}

[Collection<OnSqlite>]
public sealed class SitePhotoTestsOnSqlite(SqliteClinic clinic) : SitePhotoTests(clinic);

[Collection<OnPostgres>]
public sealed class SitePhotoTestsOnPostgres(PostgresClinic clinic) : SitePhotoTests(clinic);
