using System.Globalization;
using StagedMargins.Core.Wording;
using StagedMargins.Drawing.Content;
using StagedMargins.Drawing.Face;
using StagedMargins.Drawing.Lettering;
using StagedMargins.Drawing.Primitives;

namespace StagedMargins.Drawing.Page;

/// <summary>Puts the parts of a map below one another.</summary>
internal static class MapPage
{
    /// <summary>Lays a map out.</summary>
    /// <returns>The page, and the frame of its clock face.</returns>
    internal static (Sheet Sheet, FaceFrame Frame) LayOut(MapContent content, Measures m)
    {
        var inDocument = content.Request.InDocument;
        var sheet = new Sheet(m, inDocument ? m.Gap : m.Margin);
        var isWhole = !content.Request.WithoutSurround && !inDocument;
        if (isWhole)
        {
            Header.Draw(sheet, content);
            sheet.Down(m.Gap);
            NoticeBoard.Draw(sheet, Notice.Of(content));
            sheet.Down(m.Gap);
        }

        Orientation(sheet, content);
        ViewPlate(sheet, content.Request.View);
        var frame = Face(sheet, content);
        BelowFace(sheet, content, frame);
        if (content.Wound is not null)
        {
            Key.Draw(sheet, content, new FaceZones(frame));
            if (!inDocument)
            {
                Rows(sheet, content);
            }
        }

        if (isWhole)
        {
            DisclaimerLine(sheet);
        }

        sheet.Down(inDocument ? 0 : m.Margin);
        return (sheet, frame);
    }

    private static void Orientation(Sheet sheet, MapContent content)
    {
        var m = sheet.Measures;
        var words = $"12 = {content.Case.TwelveOClock}";
        var text = Paragraph.Of(words, TextStyle.Bold(m.Body * 1.1, Palette.Text), m.Inner * 0.8);
        sheet.Add(new SceneGroup(SceneRole.Orientation, words, [.. text.At(m.Width / 2, sheet.Top, TextAlign.Middle)]));
        sheet.Down(text.Height + (m.Gap * 0.6));
    }

    // The view one must not cut by is framed and filled; the other is plain. Both say their name.
    private static void ViewPlate(Sheet sheet, MapView view)
    {
        var m = sheet.Measures;
        var words = MapWords.Of(view);
        var isSlide = view == MapView.Slide;
        var style = isSlide ? TextStyle.Bold(m.Body, Palette.Text) : TextStyle.Regular(m.Small, Palette.Muted);
        var height = isSlide ? m.Body * 1.7 : m.Small * 1.2;
        var middle = new ScenePoint(m.Width / 2, sheet.Top + (height / 2));
        var box = SceneBox.About(middle, style.WidthOf(words) + m.Body, height);
        IEnumerable<SceneItem> plate = isSlide ? [ScenePath.Filled(Contour.Rectangle(box), Palette.WarningTint, new Pen(Palette.Warning, m.Line))] : [];
        sheet.Add(new SceneGroup(SceneRole.View, words, [.. plate, style.WriteAround(words, middle)]));
        sheet.Down(height + (m.Gap * 0.9));
    }

    private static FaceFrame Face(Sheet sheet, MapContent content)
    {
        var m = sheet.Measures;
        var frame = FaceFrame.Of(content, m, new ScenePoint(m.Width / 2, sheet.Top + m.RingOuter));
        sheet.Add(FacePart.Draw(content, frame));
        sheet.Down((2 * m.RingOuter) + (m.Gap * 2.2));
        return frame;
    }

    private static void BelowFace(Sheet sheet, MapContent content, FaceFrame frame)
    {
        var m = sheet.Measures;
        var middle = sheet.Top + (m.Body / 2);
        if (content.Wound is { } wound)
        {
            sheet.Add(ScaleBar.Draw(frame, sheet.Left, middle));
            var size = string.Create(CultureInfo.InvariantCulture, $"Defect {wound.Size.LengthMm:0.0} × {wound.Size.WidthMm:0.0} mm, {wound.Size.AreaMm2:0} mm²");
            var plane = wound.Plane is { } deepest ? $", to {Terms.Of(deepest)}" : "";
            var style = TextStyle.Regular(m.Body, Palette.Text);
            var isWide = m.IsWide;
            sheet.Down(isWide ? 0 : m.Body + (m.Gap * 0.8));
            string[] lines = style.WidthOf(size + plane) <= m.Inner ? [size + plane] : [size, plane.TrimStart(',', ' ')];
            ScenePoint Anchor(int line) => new(isWide ? sheet.Right : sheet.Left, sheet.Top + (m.Body / 2) + style.ToBaseline + (line * style.LineHeight));
            sheet.Add(new SceneGroup(SceneRole.DefectSize, size + plane, [.. lines.Select((line, i) => style.Write(line, Anchor(i), isWide ? TextAlign.End : TextAlign.Start))]));
            sheet.Down(m.Body + ((lines.Length - 1) * style.LineHeight) + (m.Gap * 0.8));
        }

        sheet.Write(SceneRole.Orientation, MapWords.Orientation(content.Request.View), TextStyle.Regular(m.Small, Palette.Muted));
        sheet.Down(m.Gap);
    }

    private static void Rows(Sheet sheet, MapContent content)
    {
        if (!sheet.Measures.IsWide)
        {
            return;
        }

        sheet.Down(sheet.Measures.Gap * 0.5);
        if (!content.ShowsBlocks)
        {
            Tables.Layers(sheet, content.Stages);
        }
        else if (content.Stage!.Blocks.Count > 0)
        {
            Tables.Blocks(sheet, content.Stage);
        }
    }

    private static void DisclaimerLine(Sheet sheet)
    {
        var m = sheet.Measures;
        sheet.Down(m.Gap);
        var rule = Contour.Line(new(sheet.Left, sheet.Top), new(sheet.Right, sheet.Top));
        sheet.Add(new SceneGroup(SceneRole.DisclaimerLine, "", [ScenePath.Stroked(rule, new Pen(Palette.Hairline, m.Line * 0.5))]));
        sheet.Down(m.Gap * 0.7);
        sheet.Write(SceneRole.DisclaimerLine, Sentences.Disclaimer, TextStyle.Regular(m.Small, Palette.Muted));
    }
}
