using System.Text;
using System.Text.Json.Nodes;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Access;

/// <summary>A caller that keeps cookies as a browser on TLS would and follows no redirect by itself.</summary>
public sealed class Browser(Uri address) : IDisposable
{
    private readonly HttpClient http = new(new HttpClientHandler { AllowAutoRedirect = false, UseCookies = false }) { BaseAddress = address };
    private readonly Dictionary<string, string> cookies = [];

    /// <summary>The cookies that were set, each with its attributes as it was sent.</summary>
    public List<string> SetCookies { get; } = [];

    /// <summary>Names of the cookies at hand.</summary>
    public IEnumerable<string> Cookies => cookies.Keys;

    public Task<Reply> GetAsync(string path) => SendAsync(new HttpRequestMessage(HttpMethod.Get, path));

    public Task<Reply> PostAsync(string path, JsonNode? body, params (string Name, string Value)[] headers)
    {
        var request = new HttpRequestMessage(HttpMethod.Post, path) { Content = new StringContent(body?.ToJsonString() ?? "{}", Encoding.UTF8, "application/json") };
        foreach (var (name, value) in headers)
        {
            request.Headers.Add(name, value);
        }

        return SendAsync(request);
    }

    public async Task<Reply> SendAsync(HttpRequestMessage request)
    {
        using (request)
        {
            if (cookies.Count > 0)
            {
                request.Headers.Add("Cookie", string.Join("; ", cookies.Select(cookie => $"{cookie.Key}={cookie.Value}")));
            }

            using var response = await http.SendAsync(request, TestContext.Current.CancellationToken);
            foreach (var set in response.Headers.TryGetValues("Set-Cookie", out var lines) ? lines : [])
            {
                Keep(set);
            }

            return await Reply.OfAsync(response);
        }
    }

    public void Dispose() => http.Dispose();

    private void Keep(string set)
    {
        SetCookies.Add(set);
        var (name, value) = (set.Split('=')[0], set.Split(';')[0][(set.IndexOf('=', StringComparison.Ordinal) + 1)..]);
        if (value.Length == 0)
        {
            cookies.Remove(name);
        }
        else
        {
            cookies[name] = value;
        }
    }
}
