using SkiaSharp;
using StagedMargins.Core;
using StagedMargins.Core.Mapping;
using StagedMargins.Drawing.Documents;
using StagedMargins.Drawing.Painting;
using StagedMargins.Drawing.Primitives;
using StagedMargins.Drawing.Tests.Testing;
using ZXing;
using ZXing.Common;

namespace StagedMargins.Drawing.Tests.Documents;

/// <summary>
/// Labels of blocks. Their QR codes are read back from the painted sheet by an open library (ZXing.Net) that shares no code with the
/// one that makes them.
/// </summary>
public sealed class LabelSheetTests
{
    private const string Longest = "AAAA-0000-WWWW-9999-MMMM-2026-01";
    private const double PointsPerMm = 72 / 25.4;

    public static TheoryData<string> Papers => ["a4", "letter"];

    [Theory]
    [MemberData(nameof(Papers))]
    public void Every_code_on_a_full_sheet_is_read_back_as_the_address_of_its_block(string name)
    {
        var (paper, labels) = (Of(name), Labels(LabelSheet.PerSheet));
        using var picture = Paint(Paged.Labels(labels, paper, 0)[0], paper, 4);
        for (var i = 0; i < labels.Count; i++)
        {
            Decode(picture, LabelSheet.BoxOf(paper, i), 4).ShouldBe(labels[i].Address.AbsoluteUri);
        }
    }

    [Fact]
    public void A_long_address_is_still_read_at_the_resolution_of_an_office_printer()
    {
        // 300 dots to the inch: 25/6 pixels to a point.
        var label = Labels(1)[0] with { Address = new Uri($"https://{new string('a', 60)}.{new string('b', 60)}.example/margins/cases/0198c0de-0000-7000-8000-00000000000c/stages/40/mark?block=A1B2") };
        using var picture = Paint(Paged.Labels([label], Paper.A4, 0)[0], Paper.A4, 25 / 6.0);
        Decode(picture, LabelSheet.BoxOf(Paper.A4, 0), 25 / 6.0).ShouldBe(label.Address.AbsoluteUri);
    }

    [Fact]
    public void A_code_has_a_light_border_of_four_modules()
    {
        // ISO/IEC 18004: 21 + 4 × (version − 1) modules, and a quiet zone of 4 on each side.
        const double Module = 2;
        var symbol = QrSymbol.Of("https://margins.example/");
        ((symbol.Side - 8 - 21) % 4).ShouldBe(0);
        var dark = SceneBox.Around(symbol.In(0, 0, symbol.Side * Module, SceneColour.FromRgb(0)).Contours.SelectMany(contour => contour.Points));
        (dark.Left, dark.Top, dark.Right, dark.Bottom).ShouldBe((4 * Module, 4 * Module, (symbol.Side - 4) * Module, (symbol.Side - 4) * Module));
    }

    [Theory]
    [MemberData(nameof(Papers))]
    public void Labels_are_of_the_stated_size_and_lie_on_the_paper_with_room_to_print(string name)
    {
        var paper = Of(name);
        for (var i = 0; i < LabelSheet.PerSheet; i++)
        {
            var box = LabelSheet.BoxOf(paper, i);
            (box.Width / PointsPerMm).ShouldBe(LabelSheet.WidthMm, 1e-9);
            (box.Height / PointsPerMm).ShouldBe(LabelSheet.HeightMm, 1e-9);
            new SceneBox(0, 0, paper.Width, paper.Height).Grown(-10 * PointsPerMm).Contains(box).ShouldBeTrue();
        }
    }

    [Theory]
    [MemberData(nameof(Papers))]
    public void The_longest_words_stay_on_their_label_and_beside_its_code(string name)
    {
        var paper = Of(name);
        var label = new BlockLabel(Longest, 40, "WWWW", 52, new string('W', Block.LongestInk), new string('m', Block.LongestInk), Labels(1)[0].Address);
        var page = Paged.Labels([label], paper, 4)[0];
        var box = LabelSheet.BoxOf(paper, 4);
        var code = SceneBox.Around(page.Items.OfType<ScenePath>().Single(path => path.Fill is not null).Contours.SelectMany(contour => contour.Points));
        box.Contains(code).ShouldBeTrue();
        var texts = page.Texts.Where(text => text.Box.Overlaps(box)).ToList();
        texts.ShouldAllBe(text => box.Contains(text.Box) && !text.Box.Overlaps(code));
        string.Concat(texts.Select(text => text.Text)).ShouldContain(Longest);
        for (var i = 0; i < texts.Count; i++)
        {
            texts.Skip(i + 1).ShouldAllBe(other => !other.Box.Grown(-1).Overlaps(texts[i].Box.Grown(-1)));
        }
    }

    [Fact]
    public void A_label_names_case_stage_block_piece_and_inks_and_no_patient()
    {
        var surgicalCase = SampleMaps.LeftBehind();
        var label = BlockLabel.Of(surgicalCase.Case, surgicalCase.Case.Stages[1], surgicalCase.Case.Stages[1].Blocks[0], new Uri("https://margins.example/x")) with { Piece = 2 };
        var words = string.Join(' ', Paged.Labels([label], Paper.A4, 0).SelectMany(page => page.Texts).Select(text => text.Text));
        words.ShouldContain("2026-0142 Stage 2, piece 2 Block A green / black");
        words.ShouldNotContain(Some.PatientRef);
        words.ShouldContain("60 × 32 mm. Print at actual size.");
        words.ShouldContain("The codes open https://margins.example; check that this is the clinic's own address.");
        words.ShouldContain("not cleared as a medical device");
    }

    [Fact]
    public void Skipped_places_stay_free_and_what_is_over_goes_on_the_next_sheet()
    {
        var pages = Paged.Labels(Labels(3), Paper.A4, 22);
        pages.Count.ShouldBe(2);
        Used(pages[0]).ShouldBe([22, 23]);
        Used(pages[1]).ShouldBe([0]);
        pages[1].Texts.ShouldContain(text => text.Text == "Sheet 2 of 2");
    }

    [Theory]
    [InlineData(-1)]
    [InlineData(LabelSheet.PerSheet)]
    public void A_sheet_has_no_more_places_to_skip_than_one_less_than_all(int skip) =>
        Should.Throw<InvalidEntryException>(() => Paged.Labels(Labels(1), Paper.A4, skip)).Field.ShouldBe("skip");

    private static Paper Of(string name) => name == "a4" ? Paper.A4 : Paper.Letter;

    private static List<BlockLabel> Labels(int count) =>
    [
        .. Enumerable.Range(0, count).Select(i => new BlockLabel(
            "2026-0142", 1, Some.Label(i), null, "blue", "red", new Uri($"https://margins.example/cases/0198c0de-0000-7000-8000-00000000000c/stages/1/mark?block={Some.Label(i)}"))),
    ];

    private static List<int> Used(DocumentPage page) =>
        [.. Enumerable.Range(0, LabelSheet.PerSheet).Where(place => page.Texts.Any(text => LabelSheet.BoxOf(Paper.A4, place).Contains(text.Box)))];

    private static SKBitmap Paint(DocumentPage page, Paper paper, double scale)
    {
        var bitmap = new SKBitmap(new SKImageInfo((int)(paper.Width * scale), (int)(paper.Height * scale), SKColorType.Rgba8888, SKAlphaType.Opaque));
        using var canvas = new SKCanvas(bitmap);
        canvas.Clear(SKColors.White);
        canvas.Scale((float)scale);
        ScenePainter.Paint(canvas, page.Items);
        return bitmap;
    }

    private static string? Decode(SKBitmap picture, SceneBox box, double scale)
    {
        using var label = new SKBitmap();
        picture.ExtractSubset(label, new SKRectI((int)(box.Left * scale), (int)(box.Top * scale), (int)(box.Right * scale), (int)(box.Bottom * scale))).ShouldBeTrue();
        using var copy = label.Copy();
        var reader = new BarcodeReaderGeneric { Options = new DecodingOptions { PossibleFormats = [BarcodeFormat.QR_CODE], TryHarder = true } };
        return reader.Decode(new RGBLuminanceSource(copy.Bytes, copy.Width, copy.Height, RGBLuminanceSource.BitmapFormat.RGBA32))?.Text;
    }
}
