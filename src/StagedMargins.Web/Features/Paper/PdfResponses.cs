using StagedMargins.Core;
using StagedMargins.Web.Hosting;

namespace StagedMargins.Web.Features.Paper;

/// <summary>What every printed sheet answers alike.</summary>
internal static class PdfResponses
{
    /// <summary>The media type.</summary>
    internal const string Pdf = "application/pdf";

    /// <summary>The paper of a query; A4 where absent.</summary>
    /// <exception cref="InvalidEntryException">Neither a4 nor letter.</exception>
    internal static Drawing.Documents.Paper PaperOf(string? word) => word switch
    {
        null or "a4" => Drawing.Documents.Paper.A4,
        "letter" => Drawing.Documents.Paper.Letter,
        _ => throw new InvalidEntryException("paper", "Must be a4 or letter."),
    };

    /// <summary>The sheet, or 304 where the caller has it already.</summary>
    /// <param name="http">The request.</param>
    /// <param name="from">Everything the sheet is made from but the time of printing.</param>
    /// <param name="name">The file's name, without patient data.</param>
    /// <param name="make">Makes it.</param>
    internal static IResult Create(HttpContext http, string from, string name, Func<byte[]> make) => CachedImageResult.Create(http, from, () =>
    {
        http.Response.Headers.ContentDisposition = $"inline; filename=\"{name}\"";
        return Results.Bytes(make(), Pdf);
    });
}
