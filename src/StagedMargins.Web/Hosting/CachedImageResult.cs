using System.Security.Cryptography;
using System.Text;
using StagedMargins.Drawing;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Hosting;

/// <summary>What everything that is drawn answers alike: a tag by which a caller keeps it, and 304 where it is the same still.</summary>
internal static class CachedImageResult
{
    private static readonly string Drawn = typeof(MapPicture).Assembly.ManifestModule.ModuleVersionId.ToString("N");

    /// <summary>The drawing, or 304 where the caller has it already.</summary>
    /// <param name="http">The request.</param>
    /// <param name="from">Everything it is drawn from; the drawing program itself is added.</param>
    /// <param name="draw">Draws it.</param>
    internal static IResult Create(HttpContext http, string from, Func<IResult> draw)
    {
        var tag = $"\"{Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes($"{from} {Drawn}")))[..32]}\"";
        return IsKept(http, tag) ? Results.StatusCode(StatusCodes.Status304NotModified) : draw();
    }

    /// <summary>Tells the caller the tag of a picture, which it may keep and must ask about each time.</summary>
    /// <returns>True where the caller has it already.</returns>
    internal static bool IsKept(HttpContext http, string tag)
    {
        http.Response.Headers.ETag = tag;
        http.Response.Headers.CacheControl = "private, no-cache";
        return ETags.Match(http.Request.Headers.IfNoneMatch, tag);
    }
}
