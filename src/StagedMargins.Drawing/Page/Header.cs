using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;
using StagedMargins.Drawing.Content;
using StagedMargins.Drawing.Lettering;
using StagedMargins.Drawing.Primitives;

namespace StagedMargins.Drawing.Page;

/// <summary>Case number, which map it is, when its layer was taken, and where the margins stand.</summary>
internal static class Header
{
    /// <summary>Draws the head of the page.</summary>
    internal static void Draw(Sheet sheet, MapContent content)
    {
        var m = sheet.Measures;
        var isWide = m.IsWide;
        var state = StatePlate(sheet, content, isWide ? null : sheet.Left);
        var width = isWide ? m.Inner - Box(state).Width - (2 * m.Gap) : m.Inner;
        var top = sheet.Top;

        sheet.Write(SceneRole.Heading, $"Case {content.Case.CaseNumber}", TextStyle.Bold(m.Heading, Palette.Text), width);
        sheet.Down(m.Gap * 0.55);
        foreach (var (role, line) in Lines(content))
        {
            sheet.Write(role, line, TextStyle.Regular(m.Body, Palette.Muted), width);
            sheet.Down(m.Body * 0.34);
        }

        if (isWide)
        {
            sheet.Add(state);
            sheet.Down(Math.Max(0, top + Box(state).Height - sheet.Top));
        }
        else
        {
            sheet.Down(m.Gap * 0.4);
            var below = StatePlate(sheet, content, sheet.Left);
            sheet.Add(below);
            sheet.Down(Box(below).Height);
        }
    }

    private static IEnumerable<(SceneRole Role, string Line)> Lines(MapContent content)
    {
        var total = content.Case.Stages.Count > content.Stages.Count ? $" of {content.Case.Stages.Count}" : "";
        yield return (SceneRole.Heading, (content.Stage, content.Request.Cumulative) switch
        {
            (null, _) => "Clock face before the first layer",
            ({ } stage, true) => $"All layers after stage {stage.Number}{total}",
            ({ } stage, false) => $"Stage {stage.Number}{total}: {MapWords.Of(stage.Pieces)}",
        });
        if (content.Stage is { } last)
        {
            yield return (SceneRole.Heading, $"Layer taken {last.TakenAt.InWords()}");
        }

        yield return (SceneRole.Heading, $"Site: {content.Case.Facts.Site.InWords()}");
        if (content.Request.ShowPatientRef)
        {
            yield return (SceneRole.PatientRef, $"Patient {content.Case.PatientRef}");
        }
    }

    private static SceneBox Box(SceneGroup group) =>
        SceneBox.Around(group.Paths.SelectMany(path => path.Contours).SelectMany(contour => contour.Points));

    // Each state has a frame of its own beside its words: filled, dashed, plain or bold. What is clear and not signed is not green.
    private static SceneGroup StatePlate(Sheet sheet, MapContent content, double? left)
    {
        var m = sheet.Measures;
        var state = content.Standing.Shown;
        var (fill, ink, pen) = state switch
        {
            CaseState.TumourOutstanding => (Palette.Tumour, Palette.Paper, new Pen(Palette.Tumour, m.Line)),
            CaseState.AwaitingReadings => (Palette.Paper, Palette.Unread, new Pen(Palette.Unread, m.Line * 1.2, (m.Line * 3.5, m.Line * 2.5))),
            CaseState.Cleared => (Palette.Paper, Palette.Clear, new Pen(Palette.Clear, m.Strong)),
            _ => (Palette.Paper, Palette.Muted, new Pen(Palette.Hairline, m.Line)),
        };
        var words = (state == CaseState.AwaitingReadings ? "? " : "") + content.StateInWords;
        var style = TextStyle.Bold(m.Body * 1.15, ink);
        var (padding, height) = (m.Body * 0.85, m.Body * 2.2);
        var width = style.WidthOf(words) + (2 * padding);
        var x = left ?? (sheet.Right - width);
        var box = new SceneBox(x, sheet.Top, x + width, sheet.Top + height);
        return new SceneGroup(SceneRole.State, content.StateInWords,
        [
            ScenePath.Filled(Contour.Rectangle(box), fill, pen),
            style.WriteAround(words, new ScenePoint(x + (width / 2), sheet.Top + (height / 2))),
        ]);
    }
}
