using System.Text;
using SkiaSharp;
using StagedMargins.Core;
using StagedMargins.Core.Intake;
using StagedMargins.Drawing.Photos;

namespace StagedMargins.Drawing.Tests.Photos;

/// <summary>What is left of a photo. Orientation: EXIF 2.3 (CIPA DC-008), 4.6.4 A, from memory; segments of JPEG: ITU-T T.81, annex B.</summary>
public sealed class PhotoFileTests
{
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    [InlineData(5)]
    [InlineData(6)]
    [InlineData(7)]
    [InlineData(8)]
    public void A_photo_stands_upright_however_the_camera_was_held(int orientation)
    {
        var kept = PhotoFile.Read(CameraFile.Jpeg(640, 400, orientation));
        (kept.WidthPx, kept.HeightPx).ShouldBe((640, 400));
        ShouldBeFourQuarters(kept);
    }

    [Theory]
    [InlineData(4100, 3000, 6, 2000, 1463)]
    [InlineData(3000, 4100, 1, 1463, 2000)]
    [InlineData(2001, 40, 1, 2000, 40)]
    [InlineData(2000, 1500, 3, 2000, 1500)]
    public void The_longest_side_is_2000_pixels_at_most_and_the_shape_stays(int width, int height, int orientation, int keptWidth, int keptHeight)
    {
        var kept = PhotoFile.Read(CameraFile.Jpeg(width, height, orientation));
        (kept.WidthPx, kept.HeightPx).ShouldBe((keptWidth, keptHeight));
        ShouldBeFourQuarters(kept);
    }

    [Fact]
    public void A_large_png_is_made_smaller_too()
    {
        var kept = PhotoFile.Read(CameraFile.Png(2600, 1300));
        (kept.WidthPx, kept.HeightPx).ShouldBe((2000, 1000));
        ShouldBeFourQuarters(kept);
    }

    [Fact]
    public void No_note_of_the_file_is_carried_over()
    {
        foreach (var file in new[] { CameraFile.Jpeg(300, 200, 6), CameraFile.Png(300, 200) })
        {
            Contains(file, CameraFile.Secret).ShouldBeTrue();
            var kept = PhotoFile.Read(file);
            Contains(kept.Bytes, CameraFile.Secret).ShouldBeFalse();
            Contains(kept.Bytes, "Exif").ShouldBeFalse();

            // APP0 with the word JFIF is the form of the file itself; any other APPn or a comment would be a note.
            Segments(kept.Bytes).ShouldBeSubsetOf([0xE0, 0xDB, 0xC0, 0xC4, 0xDA]);
            Contains(kept.Bytes, "JFIF").ShouldBeTrue();
        }
    }

    [Fact]
    public void What_can_be_seen_through_lies_on_white()
    {
        using var clear = new SKBitmap(new SKImageInfo(20, 20, SKColorType.Rgba8888, SKAlphaType.Premul));
        clear.Erase(SKColors.Transparent);
        using var png = clear.Encode(SKEncodedImageFormat.Png, 100);
        using var seen = SKBitmap.Decode(PhotoFile.Read(png.ToArray()).Bytes);
        seen.GetPixel(10, 10).ShouldBe(SKColors.White);
    }

    [Fact]
    public void The_same_file_gives_the_same_picture()
    {
        var file = CameraFile.Jpeg(640, 400, 6);
        PhotoFile.Read(file).Digest().ShouldBe(PhotoFile.Read(file).Digest());
    }

    [Fact]
    public void A_header_that_says_the_picture_is_huge_is_refused_before_it_is_decoded()
    {
        var before = GC.GetAllocatedBytesForCurrentThread();
        Should.Throw<InvalidEntryException>(() => PhotoFile.Read(CameraFile.HugePng(60_000, 60_000))).Message.ShouldContain("50 million");
        (GC.GetAllocatedBytesForCurrentThread() - before).ShouldBeLessThan(1_000_000);
    }

    [Theory]
    [InlineData("")]
    [InlineData("A letter about the patient.")]
    [InlineData("GIF89a\u0001\0\u0001\0")]
    [InlineData("<svg xmlns=\"http://www.w3.org/2000/svg\"/>")]
    public void What_is_neither_jpeg_nor_png_is_refused(string content) =>
        Should.Throw<InvalidEntryException>(() => PhotoFile.Read(Encoding.Latin1.GetBytes(content))).Field.ShouldBe("photo");

    [Fact]
    public void A_file_that_ends_early_or_is_broken_is_refused()
    {
        foreach (var file in new[] { CameraFile.Stored(640, 400), CameraFile.Png(640, 400) })
        {
            Should.Throw<InvalidEntryException>(() => PhotoFile.Read(file.AsSpan(0, file.Length / 2))).Message.ShouldContain("can't be read completely");
            Should.Throw<InvalidEntryException>(() => PhotoFile.Read(file.AsSpan(0, 12))).Message.ShouldContain("can't be read completely");
        }
    }

    [Fact]
    public void A_file_of_endless_passes_is_refused()
    {
        byte[] passes = [.. Enumerable.Repeat<byte[]>([0xFF, 0xDA], 101).SelectMany(marker => marker)];
        Should.Throw<InvalidEntryException>(() => PhotoFile.Read([.. CameraFile.Stored(64, 40), .. passes])).Field.ShouldBe("photo");
    }

    private static void ShouldBeFourQuarters(BarePicture kept)
    {
        using var seen = SKBitmap.Decode(kept.Bytes);
        (seen.Width, seen.Height).ShouldBe((kept.WidthPx, kept.HeightPx));
        SKColor[] corners = [seen.GetPixel(8, 8), seen.GetPixel(seen.Width - 9, 8), seen.GetPixel(8, seen.Height - 9), seen.GetPixel(seen.Width - 9, seen.Height - 9)];
        foreach (var (corner, wanted) in corners.Zip(CameraFile.Quarters))
        {
            Math.Max(Math.Abs(corner.Red - wanted.Red), Math.Max(Math.Abs(corner.Green - wanted.Green), Math.Abs(corner.Blue - wanted.Blue)))
                .ShouldBeLessThan(12, $"{corner} instead of {wanted}");
        }
    }

    private static bool Contains(byte[] file, string word) => file.AsSpan().IndexOf(Encoding.ASCII.GetBytes(word)) >= 0;

    private static List<int> Segments(byte[] jpeg)
    {
        var markers = new List<int>();
        for (var at = 2; markers.LastOrDefault() != 0xDA; at += 2 + (jpeg[at + 2] << 8) + jpeg[at + 3])
        {
            jpeg[at].ShouldBe((byte)0xFF);
            markers.Add(jpeg[at + 1]);
        }

        return markers;
    }
}
