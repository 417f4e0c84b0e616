using System.Globalization;
using System.Net.Http.Headers;

namespace StagedMargins.Web.Tests.Fuzz;

/// <summary>Requests made by chance to addresses that are there.</summary>
/// <param name="random">Chance.</param>
/// <param name="routes">The addresses.</param>
/// <param name="tokens">Tokens of people of every role.</param>
/// <param name="cases">Ids of cases that are there.</param>
public sealed class FuzzRequests(Random random, IReadOnlyList<FuzzRoute> routes, Func<IReadOnlyList<string?>> tokens, List<string> cases)
{
    private static readonly string[] Methods = ["GET", "POST", "PUT", "PATCH", "DELETE", "HEAD", "OPTIONS", "TRACE", "PROPFIND"];

    private static readonly string[] MediaTypes =
    [
        "application/json; charset=utf-8", "application/json; charset=utf-16", "application/json; charset=nonsense", "text/plain", "text/json", "application/x-www-form-urlencoded",
        "multipart/form-data; boundary=x", "application/xml", "application/vnd.api+json", "*/*", "json", "", ";", "application/json;;", "application/json\t", "APPLICATION/JSON",
    ];

    private static readonly string[] Names =
    [
        "width", "afterStage", "status", "from", "to", "surgeon", "site", "q", "cursor", "limit", "patient", "x",
    ];

    private readonly FuzzValues values = new(random);
    private readonly FuzzBodies bodies = new(random, new FuzzValues(random));

    /// <summary>An address by chance: half of them writes of cases, few of them files that the pages are made of.</summary>
    public FuzzRoute Route()
    {
        var kind = random.Next(20) switch
        {
            < 10 => routes.Where(route => route.WritesCase),
            < 18 => routes.Where(route => !route.WritesCase && !route.IsFile),
            _ => routes.Where(route => route.IsFile),
        };
        var choices = kind.ToList();
        return choices[random.Next(choices.Count)];
    }

    /// <summary>A request to an address.</summary>
    public HttpRequestMessage To(FuzzRoute route, Uri service)
    {
        var method = random.Next(15) == 0 ? Methods[random.Next(Methods.Length)] : route.Method;
        var path = Tricked(route.Filled(Parameter)) + Query(route);
        var target = new Uri($"{service.GetLeftPart(UriPartial.Authority)}{path}", new UriCreationOptions { DangerousDisablePathAndQueryCanonicalization = true });
        var request = new HttpRequestMessage(new HttpMethod(method), target);
        if (method is "POST" or "PUT" or "PATCH" || random.Next(40) == 0)
        {
            request.Content = Content(route);
        }

        AddHeaders(request);
        return request;
    }

    private HttpContent Content(FuzzRoute route)
    {
        var body = bodies.For(route);
        HttpContent content = random.Next(25) == 0 ? new StreamContent(new SlowBody(body)) : new ByteArrayContent(body);
        if (random.Next(12) > 0)
        {
            content.Headers.ContentType = new MediaTypeHeaderValue("application/json");
        }
        else
        {
            content.Headers.TryAddWithoutValidation("Content-Type", MediaTypes[random.Next(MediaTypes.Length)]);
        }

        if (random.Next(40) == 0)
        {
            content.Headers.TryAddWithoutValidation("Content-Encoding", "gzip");
        }

        return content;
    }

    private void AddHeaders(HttpRequestMessage request)
    {
        Add(0.98, "X-Forwarded-Proto", () => "https");
        Add(0.95, "Authorization", () => Token() is { } token ? $"Bearer {token}" : "");
        Add(0.02, "Authorization", () => $"Bearer {Header()}");
        Add(0.15, "If-Match", () => Choice("*", "\"1\"", "\"2\"", "\"3\", \"4\"", "W/\"1\"", "\"", "1", Header()));
        Add(0.1, "If-None-Match", () => Choice("*", "\"1\"", Header()));
        Add(0.2, "Idempotency-Key", () => Choice("one", "two", "three", string.Create(CultureInfo.InvariantCulture, $"k{random.Next()}"), new string('k', 201), new string('k', 200), "a b", Header()));
        Add(0.1, "Accept", () => Choice("application/json", "text/html", "image/png", "*/*", "application/xml", "nonsense", Header()));
        Add(0.05, "Accept-Language", () => Choice("en", "tr-TR", "ar", "x-nonsense", Header()));
        Add(0.05, "Accept-Encoding", () => Choice("gzip", "br", "identity;q=0, *;q=0", Header()));
        Add(0.05, "Cookie", () => Choice("stagedmargins=x", "stagedmargins.form=x; a=b", "=;=", Header()));
        Add(0.05, "Range", () => Choice("bytes=0-0", "bytes=5-1", "bytes=-99999999999999999999", Header()));
        Add(0.03, "X-HTTP-Method-Override", () => "DELETE");
        Add(0.03, "X-Forwarded-For", Header);
        Add(0.03, "Origin", () => Choice("null", "https://elsewhere.invalid", Header()));

        void Add(double share, string name, Func<string> value)
        {
            if (random.NextDouble() < share && value() is { Length: > 0 } text)
            {
                request.Headers.TryAddWithoutValidation(name, text);
            }
        }
    }

    private string? Token()
    {
        var all = tokens();
        return all[random.Next(all.Count)];
    }

    // What may stand in a header at all: no control characters, as the client would not send them.
    private string Header() => string.Concat(values.Text().Where(c => c is >= ' ' and < '\x7f'));

    private string Choice(params string[] choices) => choices[random.Next(choices.Length)];

    private string Parameter(string name) => random.Next(25) == 0 ? Uri.EscapeDataString(values.Text()) : name switch
    {
        "id" => random.Next(10) > 0 ? cases[random.Next(cases.Count)] : Guid.NewGuid().ToString(),
        "n" or "number" => Choice("1", "1", "1", "1", "1", "1", "2", "2", "3", "0", "-1", "41", "2147483648", "1.0", "+1", "%31", "x"),
        "label" => Choice("A", "A", "A", "B", "B", "B", "C", "a", "%00", "%2f", "..", "AAAAA", "%F0%9F%98%80"),
        "readingId" => Guid.NewGuid().ToString(),
        "month" => Choice("2026-03", "2026-03", "2020-01", "2199-12", "2026-13", "x"),
        "documentName" => Choice("v1", "v2", "..%2fv1"),
        _ => Choice("x", "app.css", "..%2f..%2fappsettings.json", "%2e%2e/appsettings.json", "%5c..%5cappsettings.json"),
    };

    private string Tricked(string path) => random.Next(80) switch
    {
        0 => path.Replace("/", "//", StringComparison.Ordinal),
        1 => $"{path}/",
        2 => $"/%2e%2e{path}",
        3 => $"/x/../{path.TrimStart('/')}",
        4 => $"{path}%00",
        5 => $"{path}/%2e%2e/%2e%2e/",
        6 => $"{path};a=b",
        7 => path.ToUpperInvariant(),
        8 => $"{path}%C0%AF%zz%",
        9 => $"{path}/{new string('a', random.Next(1, 6000))}",
        10 => path.Replace("/api", "/api/.", StringComparison.Ordinal),
        _ => path,
    };

    private string Query(FuzzRoute route)
    {
        if (random.Next(route.Method == "GET" ? 2 : 10) != 0)
        {
            return "";
        }

        var parts = Enumerable.Range(0, random.Next(1, 4)).Select(_ => $"{Names[random.Next(Names.Length)]}={Value()}");
        return $"?{string.Join('&', parts)}";

        string Value() => random.Next(3) switch
        {
            0 => Choice("1", "200", "4000", "open", "ended", "2026-01-01", "true", "C44", "%", "MjAyNg", "-1", "99999999999"),
            1 => Uri.EscapeDataString(new string('q', random.Next(1, 3000))),
            _ => Uri.EscapeDataString(values.Text()),
        };
    }
}
