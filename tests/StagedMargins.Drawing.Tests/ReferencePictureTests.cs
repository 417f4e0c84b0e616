using System.Runtime.CompilerServices;
using SkiaSharp;
using StagedMargins.Drawing.Tests.Testing;

namespace StagedMargins.Drawing.Tests;

/// <summary>
/// A few whole pictures beside those kept in the folder Reference. To renew them after a wanted change, run these tests with the
/// environment variable STAGEDMARGINS_RENEW_REFERENCES=1, look at every picture, and commit them.
/// </summary>
public class ReferencePictureTests
{
    // Letters and slanted lines may be smoothed a little differently on another processor; a shape that moved or is missing is
    // many pixels of a wholly other colour.
    private const int LargestChannelDifference = 64;
    private const double LargestShare = 0.0004;

    private static bool Renews => Environment.GetEnvironmentVariable("STAGEDMARGINS_RENEW_REFERENCES") == "1";

    [Theory]
    [InlineData("one-positive", 720)]
    [InlineData("left-behind-cumulative", 720)]
    [InlineData("all-kinds", 720)]
    [InlineData("fifty-two-blocks", 720)]
    [InlineData("traced-cumulative", 720)]
    [InlineData("all-kinds-slide", 720)]
    [InlineData("undecided", 720)]
    [InlineData("rim-and-base", 720)]
    [InlineData("permanent-differs", 720)]
    [InlineData("replaced", 720)]
    [InlineData("many-notices", 300)]
    [InlineData("left-behind-slide-bare", 300)]
    [InlineData("unread", 300)]
    [InlineData("all-kinds", 300)]
    public void A_map_looks_as_it_was_approved(string trial, int width)
    {
        var file = Path.Combine(Folder(), $"{trial}-{width}.png");
        var png = MapPicture.ToPng(SampleMaps.Of(trial), width);
        if (Renews)
        {
            File.WriteAllBytes(file, png);
        }

        DifferingShare(png, File.ReadAllBytes(file)).ShouldBeLessThanOrEqualTo(LargestShare, $"{trial} at {width} px differs from its reference picture.");
    }

    [Fact]
    public void A_missing_minute_of_tumour_is_a_difference()
    {
        var with = MapPicture.ToPng(SampleMaps.Of("all-kinds"), 720);
        var without = MapPicture.ToPng(SampleMaps.Of("unread"), 720);
        var tiny = MapPicture.ToPng(SampleMaps.OnePositive().Map(), 720);
        var cleared = MapPicture.ToPng(SampleMaps.OnePositive().Read("B", Core.Mapping.ReadingOutcome.Tumour, Some.Edge("07:30", "08:55")).Map(), 720);

        DifferingShare(with, without).ShouldBe(1);
        DifferingShare(tiny, cleared).ShouldBeGreaterThan(LargestShare);
    }

    private static double DifferingShare(byte[] one, byte[] other)
    {
        using var a = SKBitmap.Decode(one);
        using var b = SKBitmap.Decode(other);
        if (a.Width != b.Width || a.Height != b.Height)
        {
            return 1;
        }

        var differing = a.Pixels.Zip(b.Pixels).Count(pair =>
            Math.Abs(pair.First.Red - pair.Second.Red) > LargestChannelDifference
            || Math.Abs(pair.First.Green - pair.Second.Green) > LargestChannelDifference
            || Math.Abs(pair.First.Blue - pair.Second.Blue) > LargestChannelDifference);
        return differing / (double)(a.Width * a.Height);
    }

    private static string Folder([CallerFilePath] string file = "") => Path.Combine(Path.GetDirectoryName(file)!, "Reference");
}
