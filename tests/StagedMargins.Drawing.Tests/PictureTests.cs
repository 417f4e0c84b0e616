using System.Xml.Linq;
using SkiaSharp;
using StagedMargins.Core;
using StagedMargins.Core.Wording;
using StagedMargins.Drawing.Lettering;
using StagedMargins.Drawing.Painting;
using StagedMargins.Drawing.Primitives;
using StagedMargins.Drawing.Tests.Testing;

namespace StagedMargins.Drawing.Tests;

public class PictureTests
{
    private static readonly XNamespace Svg = "http://www.w3.org/2000/svg";

    [Theory]
    [InlineData(200)]
    [InlineData(300)]
    [InlineData(719)]
    [InlineData(720)]
    [InlineData(4000)]
    public void A_png_is_as_wide_as_asked_and_as_high_as_its_scene(int width)
    {
        var request = SampleMaps.OnePositive().Map();
        var scene = MapScene.Of(request, MapDetails.For(width));

        using var picture = SKBitmap.Decode(MapPicture.ToPng(request, width));

        picture.Width.ShouldBe(width);
        picture.Height.ShouldBe((int)Math.Ceiling(scene.Height * width / scene.Width));
    }

    [Theory]
    [InlineData(199)]
    [InlineData(4001)]
    public void A_width_out_of_range_is_refused(int width)
    {
        var scene = MapScene.Of(Some.Case().Map());

        Should.Throw<InvalidEntryException>(() => MapPicture.ToPng(scene, width)).Field.ShouldBe("width");
        Should.Throw<InvalidEntryException>(() => MapPicture.ToSvg(scene, width)).Field.ShouldBe("width");
    }

    [Fact]
    public void Small_pictures_are_compact_and_large_ones_full()
    {
        MapDetails.For(300).ShouldBe(MapDetail.Compact);
        MapDetails.For(1200).ShouldBe(MapDetail.Full);
    }

    [Theory]
    [InlineData(200)]
    [InlineData(300)]
    [InlineData(1200)]
    public void Every_numeral_puts_ink_on_the_picture(int width)
    {
        var scene = MapScene.Of(Some.Case().Map(), MapDetails.For(width));
        using var picture = SKBitmap.Decode(MapPicture.ToPng(scene, width));

        foreach (var numeral in scene.WithRole(SceneRole.Numeral))
        {
            // A numeral's strokes cover far more than a tenth of its box, and nothing else is drawn there.
            DarkShare(picture, numeral.Texts.Single().Box, width / scene.Width).ShouldBeGreaterThan(0.1, numeral.Name);
        }
    }

    [Theory]
    [InlineData(300)]
    [InlineData(1200)]
    public void The_tumours_red_is_on_the_picture_at_its_place(int width)
    {
        var scene = MapScene.Of(SampleMaps.OnePositive().Map(), MapDetails.For(width));
        using var picture = SKBitmap.Decode(MapPicture.ToPng(scene, width));
        var box = SceneBox.Around(scene.Only(SceneRole.Outstanding).Filled());

        Pixels(picture, box, width / scene.Width).Count(IsRed).ShouldBeGreaterThan(40);
    }

    [Fact]
    public void The_same_map_gives_the_same_bytes()
    {
        MapPicture.ToPng(SampleMaps.Of("all-kinds"), 800).ShouldBe(MapPicture.ToPng(SampleMaps.Of("all-kinds"), 800));
        MapPicture.ToSvg(SampleMaps.Of("all-kinds"), 800).ShouldBe(MapPicture.ToSvg(SampleMaps.Of("all-kinds"), 800));
    }

    [Fact]
    public void Svg_is_an_image_with_title_and_description_and_letters_of_its_own()
    {
        var request = SampleMaps.Of("long-words") with { ShowPatientRef = false };
        var svg = XDocument.Parse(MapPicture.ToSvg(request, 1200)).Root!;

        svg.Name.ShouldBe(Svg + "svg");
        svg.Attribute("role")!.Value.ShouldBe("img");
        svg.Attribute("width")!.Value.ShouldBe("1200");
        svg.Elements().Select(element => element.Name.LocalName).Take(2).ShouldBe(["title", "desc"]);
        svg.Element(Svg + "title")!.Value.ShouldBe("Margin map of case 2026-0142, stage 1, patient view");
        svg.Element(Svg + "desc")!.Value.ShouldContain("Tumour outstanding. ");
        svg.Element(Svg + "desc")!.Value.ShouldContain(Sentences.Disclaimer);
        svg.Descendants(Svg + "text").ShouldBeEmpty();
        var letters = svg.Descendants().Attributes("id").Select(id => $"#{id.Value}").ToHashSet();
        svg.Descendants(Svg + "use").Count().ShouldBeGreaterThan(300);
        svg.Descendants(Svg + "use").ShouldAllBe(use => letters.Contains(use.Attribute("href")!.Value));
    }

    [Fact]
    public void Svg_tells_the_roles_of_its_groups()
    {
        var svg = XDocument.Parse(MapPicture.ToSvg(SampleMaps.OnePositive().Map(), 1200)).Root!;

        svg.Elements(Svg + "g").Count(group => group.Attribute("class")!.Value == nameof(SceneRole.Outstanding)).ShouldBe(1);
    }

    [Theory]
    [MemberData(nameof(WordsOnTheMapTests.AllTrials), MemberType = typeof(WordsOnTheMapTests))]
    public void Svg_is_well_formed_and_its_numbers_are_finite(string trial)
    {
        foreach (var width in new[] { 300, 1200 })
        {
            var paths = XDocument.Parse(MapPicture.ToSvg(SampleMaps.Of(trial), width)).Descendants(Svg + "path");

            paths.Attributes("d").ShouldAllBe(d => !d.Value.Contains("NaN") && !d.Value.Contains('∞'));
        }
    }

    [Fact]
    public void The_typeface_has_the_letters_that_the_maps_use() =>
        MapTypeface.CanWrite("0123456789:–−×²…?!() ABCXYZabcxyz,.;'éüñßøł").ShouldBeTrue();

    [Fact]
    public void The_same_painter_paints_a_page_of_a_document()
    {
        var scene = MapScene.Of(SampleMaps.OnePositive().Map());
        using var stream = new MemoryStream();
        using (var document = SKDocument.CreatePdf(stream))
        {
            ScenePainter.Paint(document.BeginPage((float)scene.Width, (float)scene.Height), scene);
            document.EndPage();
        }

        var pdf = System.Text.Encoding.Latin1.GetString(stream.ToArray());
        pdf.ShouldStartWith("%PDF-");
        pdf.ShouldContain("/FontFile2");
    }

    private static bool IsRed(SKColor pixel) => pixel.Red > 150 && pixel.Green < 90 && pixel.Blue < 90;

    private static double DarkShare(SKBitmap picture, SceneBox box, double scale)
    {
        var pixels = Pixels(picture, box, scale).ToList();
        return pixels.Count(pixel => pixel.Red < 110 && pixel.Green < 110) / (double)pixels.Count;
    }

    private static IEnumerable<SKColor> Pixels(SKBitmap picture, SceneBox box, double scale)
    {
        for (var y = (int)(box.Top * scale); y < box.Bottom * scale; y++)
        {
            for (var x = (int)(box.Left * scale); x < box.Right * scale; x++)
            {
                yield return picture.GetPixel(x, y);
            }
        }
    }
}
