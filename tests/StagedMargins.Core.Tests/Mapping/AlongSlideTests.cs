using CsCheck;
using StagedMargins.Core.ClockFace;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Tests.Mapping;

/// <summary>
/// Places along the slide. That a slide may show the mirror image of the tissue is common practice, no source; the figures follow
/// by hand from the proportion.
/// </summary>
public sealed class AlongSlideTests
{
    private static readonly Gen<(int Start, int End)> Thousandths =
        Gen.Select(Gen.Int[0, 999], Gen.Int[1, 1000]).Where((start, end) => start < end);

    [Theory]
    [InlineData("06:00-12:00", 0.25, 0.50, false, "07:30-09:00")]
    [InlineData("06:00-12:00", 0.25, 0.50, true, "09:00-10:30")]
    [InlineData("06:00-12:00", 0, 1, false, "06:00-12:00")]
    [InlineData("06:00-12:00", 0, 1, true, "06:00-12:00")]
    [InlineData("11:00-01:00", 0.25, 0.75, false, "11:30-12:30")]
    [InlineData("11:00-01:00", 0, 0.25, true, "12:30-01:00")]
    [InlineData("12:00-12:00", 0, 0.25, false, "12:00-03:00")]
    [InlineData("12:00-12:00", 0, 0.25, true, "09:00-12:00")]
    [InlineData("03:00-03:00", 0, 1, false, "03:00-03:00")]
    [InlineData("03:00-03:00", 0.5, 1, false, "09:00-03:00")]
    public void A_stretch_is_placed_on_the_face(string block, double start, double end, bool mirrored, string face) =>
        new AlongSlide((decimal)start, (decimal)end, mirrored).ToClockArc(Some.Arc(block)).ShouldBe(Some.Arc(face));

    [Theory]
    [InlineData("06:00-12:00", 0.001, 0.999, "06:00-12:00")]
    [InlineData("06:00-12:00", 0.2501, 0.4999, "07:30-09:00")]
    [InlineData("06:00-12:00", 0.2499, 0.5001, "07:29-09:01")]
    [InlineData("06:00-06:07", 0.5, 0.51, "06:03-06:04")]
    [InlineData("06:00-06:01", 0.4, 0.6, "06:00-06:01")]
    public void The_stretch_is_rounded_outward_so_that_it_is_never_narrower_than_what_was_seen(string block, double start, double end, string face) =>
        new AlongSlide((decimal)start, (decimal)end, false).ToClockArc(Some.Arc(block)).ShouldBe(Some.Arc(face));

    [Fact]
    public void A_fraction_that_meets_a_minute_exactly_is_not_rounded_past_it()
    {
        // In binary floating point 0.7 × 360 falls below 252, and 1 − 0.9 above 0.1: either would cost a minute of healthy skin.
        var block = Some.Arc("12:00-06:00");
        new AlongSlide(0.7m, 0.8m, false).ToClockArc(block).ShouldBe(ClockArc.Starting(new ClockPosition(252), 36));
        new AlongSlide(0.1m, 0.9m, true).ToClockArc(block).ShouldBe(ClockArc.Starting(new ClockPosition(36), 288));
        new AlongSlide(0.3m, 0.7m, true).ToClockArc(block).ShouldBe(ClockArc.Starting(new ClockPosition(108), 144));
    }

    [Fact]
    public void Every_tenth_of_every_block_is_exact() => Gen.Select(Gen.Int[1, 72], Gen.Int[0, 9], Gen.Int[0, 719]).Sample((tens, tenth, from) =>
    {
        var block = ClockArc.Starting(new ClockPosition(from), tens * 10);
        var face = new AlongSlide(tenth / 10m, (tenth + 1) / 10m, false).ToClockArc(block);
        face.ShouldBe(ClockArc.Starting(block.From.Plus(tenth * tens), tens));
    });

    [Fact]
    public void The_mirror_image_of_the_mirror_image_is_the_slide_itself() =>
        Gen.Select(Thousandths, Gen.Int[0, 719], Gen.Int[1, 720]).Sample((stretch, from, minutes) =>
        {
            var block = ClockArc.Starting(new ClockPosition(from), minutes);
            var (start, end) = (stretch.Start / 1000m, stretch.End / 1000m);
            new AlongSlide(1 - end, 1 - start, true).ToClockArc(block).ShouldBe(new AlongSlide(start, end, false).ToClockArc(block));
        });

    [Fact]
    public void A_stretch_takes_exactly_the_minutes_that_it_overlaps() =>
        Gen.Select(Thousandths, Gen.Int[1, 720], Gen.Bool).Sample((stretch, minutes, mirrored) =>
        {
            var block = ClockArc.Starting(new ClockPosition(600), minutes);
            var face = new AlongSlide(stretch.Start / 1000m, stretch.End / 1000m, mirrored).ToClockArc(block);
            var (start, end) = mirrored ? (1000 - stretch.End, 1000 - stretch.Start) : stretch;
            var overlapped = Enumerable.Range(0, minutes).Where(minute => (minute + 1) * 1000 > start * minutes && minute * 1000 < end * minutes).ToList();
            (face.From.Minutes, face.Minutes).ShouldBe(((600 + overlapped[0]) % 720, overlapped.Count));
        });

    [Theory]
    [InlineData(-0.01, 0.5)]
    [InlineData(0.5, 1.01)]
    [InlineData(0.5, 0.5)]
    [InlineData(0.6, 0.5)]
    [InlineData(1, 1)]
    public void Fractions_outside_the_slide_or_in_the_wrong_order_are_refused(double start, double end)
    {
        Refusal.OfEntry("along", () => new AlongSlide((decimal)start, (decimal)end, false).ToClockArc(ClockArc.Whole));
        Refusal.OfEntry("along", () => new AlongSlide((decimal)start, (decimal)end, true).ToClockArc(ClockArc.Whole));
    }
}
