using SkiaSharp;
using StagedMargins.Core;
using StagedMargins.Drawing.Painting;

namespace StagedMargins.Drawing.Documents;

/// <summary>Pages as a PDF file: shapes as vectors, words as text in the embedded typeface.</summary>
public static class PdfFile
{
    /// <summary>Writes the pages.</summary>
    /// <param name="pages">The pages.</param>
    /// <param name="paper">Their paper.</param>
    /// <param name="title">The file's title; no patient data.</param>
    /// <param name="at">When it was made.</param>
    /// <param name="cancel">Stops between two pages.</param>
    public static byte[] Write(IReadOnlyList<DocumentPage> pages, Paper paper, string title, ClinicalTime at, CancellationToken cancel = default)
    {
        using var stream = new MemoryStream();
        var time = at.ToDateTimeOffset().UtcDateTime;
        var about = new SKDocumentPdfMetadata { Title = title, Producer = "StagedMargins", Creator = "StagedMargins", Creation = time, Modified = time };
        using (var document = SKDocument.CreatePdf(stream, about))
        {
            foreach (var page in pages)
            {
                cancel.ThrowIfCancellationRequested();
                Paint(document.BeginPage((float)paper.Width, (float)paper.Height), page);
                document.EndPage();
            }

            document.Close();
        }

        return stream.ToArray();
    }

    private static void Paint(SKCanvas canvas, DocumentPage page)
    {
        foreach (var map in page.Maps)
        {
            canvas.Save();
            canvas.Translate((float)map.Box.Left, (float)map.Box.Top);
            canvas.Scale((float)map.Scale);
            ScenePainter.Paint(canvas, map.Scene);
            canvas.Restore();
        }

        ScenePainter.Paint(canvas, page.Items);
    }
}
