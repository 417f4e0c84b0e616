using System.Text;
using Microsoft.Extensions.Primitives;

namespace StagedMargins.Web.Writing;

/// <summary>An answer whose JSON was made with the write.</summary>
/// <param name="status">HTTP status.</param>
/// <param name="body">The JSON.</param>
/// <param name="location">Where what was made is found.</param>
/// <param name="version">The version of the case.</param>
/// <param name="Replayed">True where it is the kept answer of an earlier request.</param>
internal sealed class JsonBodyResult(int status, string body, string? location, int version, bool Replayed) : IResult
{
    public async Task ExecuteAsync(HttpContext httpContext)
    {
        var response = httpContext.Response;
        response.StatusCode = status;
        response.ContentType = "application/json; charset=utf-8";
        response.Headers.ETag = ETags.Of(version);
        if (location is not null)
        {
            response.Headers.Location = location;
        }

        if (Replayed)
        {
            response.Headers["Idempotency-Replayed"] = "true";
        }

        await response.WriteAsync(body, Encoding.UTF8);
    }
}

/// <summary>Entity tags of cases: the version in quotes.</summary>
public static class ETags
{
    /// <summary>The tag of a version.</summary>
    public static string Of(int version) => FormattableString.Invariant($"\"{version}\"");

    /// <summary>True where a header names a version, or any.</summary>
    public static bool Match(StringValues header, int version) => Match(header, Of(version));

    /// <summary>True where a header names a tag, or any.</summary>
    public static bool Match(StringValues header, string tag) => header
        .SelectMany(line => (line ?? "").Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
        .Any(one => one == "*" || one == tag);
}
