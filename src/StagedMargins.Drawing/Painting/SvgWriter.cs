using System.Globalization;
using System.Text;
using System.Xml;
using StagedMargins.Drawing.Lettering;
using StagedMargins.Drawing.Primitives;

namespace StagedMargins.Drawing.Painting;

/// <summary>
/// Writes a scene as SVG. Letters are written as outlines, each once, and placed where they are used: so the picture looks the
/// same in every program and on paper, where a font embedded by style sheet is ignored by many. What they say stands in the
/// description for those who can't see it.
/// </summary>
internal sealed class SvgWriter
{
    // Outlines are taken at this em, far above the rounding of their numbers.
    private const int Em = 1000;
    private const string Svg = "http://www.w3.org/2000/svg";

    private readonly MapScene scene;
    private readonly Dictionary<(TextWeight Weight, ushort Glyph), string> letters = [];

    private SvgWriter(MapScene scene)
    {
        this.scene = scene;
    }

    /// <summary>Writes a scene.</summary>
    /// <param name="scene">The scene.</param>
    /// <param name="width">Width in pixels.</param>
    /// <returns>A document without an XML declaration, so that it can stand in a page.</returns>
    internal static string Write(MapScene scene, int width) => new SvgWriter(scene).Write(width);

    private string Write(int width)
    {
        var text = new StringBuilder();
        using (var xml = XmlWriter.Create(text, new XmlWriterSettings { OmitXmlDeclaration = true }))
        {
            xml.WriteStartElement("svg", Svg);
            xml.WriteAttributeString("width", Number(width));
            xml.WriteAttributeString("height", Number(MapPicture.HeightFor(scene, width)));
            xml.WriteAttributeString("viewBox", $"0 0 {Number(scene.Width)} {Number(scene.Height)}");
            xml.WriteAttributeString("role", "img");
            xml.WriteElementString("title", Svg, scene.Title);
            xml.WriteElementString("desc", Svg, scene.Description);
            Letters(xml);
            Rectangle(xml);
            foreach (var group in scene.Groups)
            {
                Group(xml, group);
            }

            xml.WriteEndElement();
        }

        return text.ToString();
    }

    private void Letters(XmlWriter xml)
    {
        xml.WriteStartElement("defs", Svg);
        foreach (var weight in scene.Groups.SelectMany(group => group.Texts).GroupBy(text => text.Weight).OrderBy(group => group.Key))
        {
            using var font = MapTypeface.FontOf(weight.Key, Em);
            foreach (var glyph in weight.SelectMany(text => font.GetGlyphs(text.Text)).Distinct().Order())
            {
                using var path = font.GetGlyphPath(glyph);
                if (path is null || path.IsEmpty)
                {
                    continue;
                }

                var id = $"{(weight.Key == TextWeight.Bold ? "b" : "r")}{glyph.ToString(CultureInfo.InvariantCulture)}";
                letters[(weight.Key, glyph)] = id;
                xml.WriteStartElement("path", Svg);
                xml.WriteAttributeString("id", id);
                xml.WriteAttributeString("d", path.ToSvgPathData());
                xml.WriteEndElement();
            }
        }

        xml.WriteEndElement();
    }

    private void Rectangle(XmlWriter xml)
    {
        xml.WriteStartElement("rect", Svg);
        xml.WriteAttributeString("width", Number(scene.Width));
        xml.WriteAttributeString("height", Number(scene.Height));
        xml.WriteAttributeString("fill", Palette.Paper.Hex);
        xml.WriteEndElement();
    }

    private void Group(XmlWriter xml, SceneGroup group)
    {
        xml.WriteStartElement("g", Svg);
        xml.WriteAttributeString("class", group.Role.ToString());
        foreach (var item in group.Items)
        {
            switch (item)
            {
                case ScenePath path:
                    Path(xml, path);
                    break;
                case SceneText text:
                    Text(xml, text);
                    break;
                default:
                    throw new NotSupportedException($"A {item.GetType().Name} can't be written as SVG.");
            }
        }

        xml.WriteEndElement();
    }

    private static void Path(XmlWriter xml, ScenePath path)
    {
        var d = new StringBuilder();
        foreach (var contour in path.Contours)
        {
            for (var i = 0; i < contour.Points.Count; i++)
            {
                d.Append(i == 0 ? 'M' : i == 1 ? 'L' : ' ').Append(Number(contour.Points[i].X)).Append(' ').Append(Number(contour.Points[i].Y));
            }

            d.Append(contour.Closed ? "Z" : "");
        }

        xml.WriteStartElement("path", Svg);
        xml.WriteAttributeString("d", d.ToString());
        xml.WriteAttributeString("fill", path.Fill?.Hex ?? "none");
        xml.WriteAttributeString("fill-rule", "evenodd");
        if (path.Pen is { } pen)
        {
            xml.WriteAttributeString("stroke", pen.Colour.Hex);
            xml.WriteAttributeString("stroke-width", Number(pen.Width));
            xml.WriteAttributeString("stroke-linejoin", "round");
            xml.WriteAttributeString("stroke-linecap", pen.Dash is null ? "round" : "butt");
            if (pen.Dash is { } dash)
            {
                xml.WriteAttributeString("stroke-dasharray", $"{Number(dash.On)} {Number(dash.Off)}");
            }
        }

        xml.WriteEndElement();
    }

    private void Text(XmlWriter xml, SceneText text)
    {
        using var font = MapTypeface.FontOf(text.Weight, Em);
        var glyphs = font.GetGlyphs(text.Text);
        var widths = font.GetGlyphWidths(text.Text);
        xml.WriteStartElement("g", Svg);
        xml.WriteAttributeString("transform", $"translate({Number(text.Box.Left)} {Number(text.Anchor.Y)}) scale({Fine(text.Size / Em)})");
        xml.WriteAttributeString("fill", text.Colour.Hex);
        var x = 0.0;
        for (var i = 0; i < glyphs.Length; i++)
        {
            if (letters.TryGetValue((text.Weight, glyphs[i]), out var id))
            {
                xml.WriteStartElement("use", Svg);
                xml.WriteAttributeString("href", $"#{id}");
                xml.WriteAttributeString("x", Number(x));
                xml.WriteEndElement();
            }

            x += widths[i];
        }

        xml.WriteEndElement();
    }

    private static string Number(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);

    private static string Fine(double value) => value.ToString("0.######", CultureInfo.InvariantCulture);
}
