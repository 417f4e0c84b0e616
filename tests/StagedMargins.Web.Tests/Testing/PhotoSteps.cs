using System.Net.Http.Headers;

namespace StagedMargins.Web.Tests.Testing;

/// <summary>Photos of the marked site, as a caller sends them over HTTP.</summary>
public static class PhotoSteps
{
    /// <summary>Sends a file as the body.</summary>
    public static Task<Reply> SendSitePhotoAsync(this Caller caller, string id, byte[] file, string contentType = "image/jpeg", params (string Name, string Value)[] headers)
    {
        var content = new ByteArrayContent(file);
        content.Headers.ContentType = MediaTypeHeaderValue.Parse(contentType);
        return caller.SendAsync(new HttpRequestMessage(HttpMethod.Post, $"/api/cases/{id}/site-photo") { Content = content }, headers);
    }

    /// <summary>Sends a file as a form does, under a name.</summary>
    public static Task<Reply> SendSitePhotoFormAsync(this Caller caller, string id, byte[] file, string fileName)
    {
        var form = new MultipartFormDataContent { { new StringContent("a note"), "note" }, { new ByteArrayContent(file), "photo", fileName } };
        return caller.SendAsync(new HttpRequestMessage(HttpMethod.Post, $"/api/cases/{id}/site-photo") { Content = form });
    }

    /// <summary>Adds a photo.</summary>
    public static async Task<Reply> AddSitePhotoAsync(this Caller caller, string id, byte[] file) => (await caller.SendSitePhotoAsync(id, file)).Expect(201);

    /// <summary>The file that is served.</summary>
    public static async Task<byte[]> SitePhotoAsync(this Caller caller, string id, int? number = null)
    {
        using var answer = await caller.SendForBytesAsync(new HttpRequestMessage(HttpMethod.Get, FormattableString.Invariant($"/api/cases/{id}/site-photo{(number is null ? "" : "?number=")}{number}")));
        answer.EnsureSuccessStatusCode();
        return await answer.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken);
    }
}
