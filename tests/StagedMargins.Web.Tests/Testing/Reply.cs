using System.Text.Json.Nodes;

namespace StagedMargins.Web.Tests.Testing;

/// <summary>An answer of the service.</summary>
/// <param name="Status">HTTP status.</param>
/// <param name="MediaType">Media type of the body.</param>
/// <param name="Body">The body as text.</param>
/// <param name="Headers">The headers by name, lines joined.</param>
public sealed record Reply(int Status, string? MediaType, string Body, IReadOnlyDictionary<string, string> Headers)
{
    private readonly Lazy<JsonNode?> json = new(() => JsonNode.Parse(Body));

    // A refusal carries no patient data and may be shown; a record is not for the output of a run.
    private string? Refusal => MediaType == "application/problem+json" ? Body : null;

    /// <summary>The body as JSON.</summary>
    public JsonNode Json => json.Value ?? throw new InvalidOperationException("The body is null.");

    /// <summary>Reads an answer.</summary>
    public static async Task<Reply> OfAsync(HttpResponseMessage response)
    {
        var headers = response.Headers.Concat(response.Content.Headers)
            .ToDictionary(header => header.Key, header => string.Join(", ", header.Value), StringComparer.OrdinalIgnoreCase);
        var body = await response.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
        return new Reply((int)response.StatusCode, response.Content.Headers.ContentType?.MediaType, body, headers);
    }

    /// <summary>A header, or null.</summary>
    public string? Header(string name) => Headers.GetValueOrDefault(name);

    /// <summary>The part of the body at a path such as <c>stages[0].alerts</c>, or null.</summary>
    public JsonNode? At(string path) => Json.At(path);

    /// <summary>The text at a path.</summary>
    public string Text(string path) => At(path)!.GetValue<string>();

    /// <summary>The whole number at a path.</summary>
    public int Number(string path) => At(path)!.GetValue<int>();

    /// <summary>The answer, if it is of a status; the test fails otherwise, showing the refusal.</summary>
    public Reply Expect(int status)
    {
        Status.ShouldBe(status, Refusal);
        return this;
    }

    /// <summary>A refusal as problem details: status, title and detail, and for 400 the field at fault.</summary>
    public Reply ExpectProblem(int status, string? field = null)
    {
        Status.ShouldBe(status, Refusal);
        MediaType.ShouldBe("application/problem+json");
        At("status")!.GetValue<int>().ShouldBe(status);
        Text("title").ShouldNotBeNullOrWhiteSpace();
        Text("detail").ShouldNotBeNullOrWhiteSpace();
        if (status == 400)
        {
            var errors = Json["errors"].ShouldBeOfType<JsonObject>();
            errors.ShouldNotBeEmpty();
            errors.ShouldAllBe(error => error.Value is JsonArray && error.Value.AsArray().Count > 0);
            if (field is not null)
            {
                errors.Select(error => error.Key).ShouldContain(field);
            }
        }

        return this;
    }
}
