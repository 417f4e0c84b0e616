using StagedMargins.Core.Wording;
using StagedMargins.Drawing.Content;
using StagedMargins.Drawing.Lettering;
using StagedMargins.Drawing.Primitives;

namespace StagedMargins.Drawing.Page;

/// <summary>Alerts and notices above the face, loudest first. Severity shows in frame and weight, not in colour alone.</summary>
internal static class NoticeBoard
{
    private const int LongestNotice = 5;

    // More would push the face off the screen; the last line then says how many there are.
    private const int MostNotices = 4;

    /// <summary>Draws the notices: where they are too many, the loudest, and how many more there are.</summary>
    internal static void Draw(Sheet sheet, IReadOnlyList<Notice> notices)
    {
        foreach (var notice in Folded(notices))
        {
            Draw(sheet, notice);
            sheet.Down(sheet.Measures.Gap * 0.55);
        }
    }

    private static IReadOnlyList<Notice> Folded(IReadOnlyList<Notice> notices) => notices.Count <= MostNotices
        ? notices
        : [.. notices.Take(MostNotices - 1), new Notice(SceneRole.Notice, notices[MostNotices - 1].Severity, Sentences.MoreInTheCase(notices.Count - MostNotices + 1))];

    private static void Draw(Sheet sheet, Notice notice)
    {
        var m = sheet.Measures;
        var (colour, tint, bar) = notice.Severity switch
        {
            Severity.Alert => (Palette.Tumour, Palette.TumourTint, m.Line * 6),
            Severity.Warning => (Palette.Warning, Palette.WarningTint, m.Line * 3),
            _ => (Palette.Muted, Palette.Dial, m.Line * 1.5),
        };
        var style = notice.Severity == Severity.Alert ? TextStyle.Bold(m.Body, Palette.Text) : TextStyle.Regular(m.Body, Palette.Text);
        var indent = m.Body * 1.1;
        var text = Paragraph.Of(notice.Text, style, m.Inner - (2 * indent), LongestNotice);
        var padding = m.Body * 0.55;
        var box = new SceneBox(sheet.Left, sheet.Top, sheet.Right, sheet.Top + text.Height + (2 * padding));
        var frame = notice.Severity == Severity.Alert ? new Pen(colour, m.Line) : null;
        sheet.Add(new SceneGroup(notice.Role, notice.Text,
        [
            ScenePath.Filled(Contour.Rectangle(box), tint, frame),
            ScenePath.Filled(Contour.Rectangle(box with { Right = box.Left + bar }), colour),
            .. text.At(box.Left + indent, box.Top + padding),
        ]));
        sheet.Down(box.Height);
    }
}
