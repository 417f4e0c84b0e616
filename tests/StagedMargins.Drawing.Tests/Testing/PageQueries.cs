using StagedMargins.Drawing.Documents;
using StagedMargins.Drawing.Primitives;

namespace StagedMargins.Drawing.Tests.Testing;

/// <summary>What a person sees on laid out pages.</summary>
internal static class PageQueries
{
    /// <summary>All words, each column of a page read down in turn.</summary>
    internal static string ByColumns(this IReadOnlyList<DocumentPage> pages) => string.Join(' ', pages.Select(page =>
        string.Join(' ', page.Texts.GroupBy(text => Math.Round(text.Box.Left, 1)).SelectMany(column => column).Select(text => text.Text))));

    /// <summary>Lines of text that are struck through.</summary>
    internal static List<string> Struck(this IReadOnlyList<DocumentPage> pages) =>
    [
        .. from page in pages
           from text in page.Texts
           where page.Items.OfType<ScenePath>().Any(path => path.Contours[0].Points is [var a, var b]
               && a.Y == b.Y && a.X == text.Box.Left && b.X == text.Box.Right && a.Y > text.Box.Top && a.Y < text.Box.Bottom)
           select text.Text,
    ];

    /// <summary>What stands in each heavy frame.</summary>
    internal static List<string> Framed(this IReadOnlyList<DocumentPage> pages) =>
    [
        .. from page in pages
           from frame in page.Items.OfType<ScenePath>().Where(path => path.Pen is { Width: 2 } && path.Contours[0].Points.Count == 4)
           let box = SceneBox.Around(frame.Contours[0].Points)
           select string.Join(' ', page.Texts.Where(text => box.Contains(text.Box)).Select(text => text.Text)),
    ];
}
