using System.Net.Http.Headers;
using System.Text;
using System.Text.Json.Nodes;

namespace StagedMargins.Web.Tests.Testing;

/// <summary>Someone who calls the service over HTTP, signed in or not.</summary>
/// <param name="http">The client, its base address set.</param>
/// <param name="token">The bearer token, or null.</param>
public sealed class Caller(HttpClient http, string? token)
{
    /// <summary>The bearer token.</summary>
    public string? Token => token;

    /// <summary>Signs in and gives the caller who is signed in.</summary>
    public async Task<Caller> SignInAsync(string email, string password)
    {
        var reply = await PostAsync("/api/auth/login", new JsonObject { ["email"] = email, ["password"] = password });
        reply.Status.ShouldBe(200);
        return new Caller(http, reply.Text("accessToken"));
    }

    /// <summary>Sets a password with a one-time code of the administrator.</summary>
    public async Task SetPasswordAsync(string email, string code, string password = TestClinic.Password) =>
        (await PostAsync("/api/auth/set-password", new JsonObject { ["email"] = email, ["code"] = code, ["password"] = password })).Expect(204);

    /// <summary>The same caller with another token.</summary>
    public Caller With(string? otherToken) => new(http, otherToken);

    /// <summary>Reads.</summary>
    public Task<Reply> GetAsync(string path, params (string Name, string Value)[] headers) =>
        SendAsync(new HttpRequestMessage(HttpMethod.Get, path), headers);

    /// <summary>Posts JSON.</summary>
    public Task<Reply> PostAsync(string path, JsonNode? body, params (string Name, string Value)[] headers) =>
        PostTextAsync(path, body?.ToJsonString() ?? "null", headers);

    /// <summary>Posts a text as it stands, under the name of JSON.</summary>
    public Task<Reply> PostTextAsync(string path, string body, params (string Name, string Value)[] headers) =>
        SendAsync(new HttpRequestMessage(HttpMethod.Post, path) { Content = new StringContent(body, Encoding.UTF8, "application/json") }, headers);

    /// <summary>Sends a request with the caller's token.</summary>
    public async Task<Reply> SendAsync(HttpRequestMessage request, params (string Name, string Value)[] headers)
    {
        if (token is not null)
        {
            request.Headers.Authorization = new AuthenticationHeaderValue("Bearer", token);
        }

        foreach (var (name, value) in headers)
        {
            request.Headers.TryAddWithoutValidation(name, value);
        }

        using (request)
        {
            using var response = await http.SendAsync(request, TestContext.Current.CancellationToken);
            return await Reply.OfAsync(response);
        }
    }

    /// <summary>Sends a request with the caller's token whose answer is not text; whoever asks disposes of the answer.</summary>
    public Task<HttpResponseMessage> SendForBytesAsync(HttpRequestMessage request)
    {
        request.Headers.Authorization = new AuthenticationHeaderValue("Bearer", token);
        return http.SendAsync(request, TestContext.Current.CancellationToken);
    }
}
