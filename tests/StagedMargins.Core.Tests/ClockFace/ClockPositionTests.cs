using System.Globalization;
using StagedMargins.Core.ClockFace;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Tests.ClockFace;

public sealed class ClockPositionTests
{
    [Theory]
    [InlineData("12:00", 0)]
    [InlineData("00:00", 0)]
    [InlineData("12:30", 30)]
    [InlineData("00:30", 30)]
    [InlineData("12:59", 59)]
    [InlineData("00:59", 59)]
    [InlineData("01:00", 60)]
    [InlineData("03:00", 180)]
    [InlineData("06:00", 360)]
    [InlineData("11:59", 719)]
    public void The_text_form_is_read(string text, int minutes)
    {
        ClockPosition.Parse(text).Minutes.ShouldBe(minutes);
        ClockPosition.TryParse(text, out var position).ShouldBeTrue();
        position.Minutes.ShouldBe(minutes);
    }

    [Theory]
    [InlineData(null)]
    [InlineData("")]
    [InlineData("12")]
    [InlineData("1:30")]
    [InlineData("13:00")]
    [InlineData("24:00")]
    [InlineData("99:00")]
    [InlineData("07:60")]
    [InlineData("-1:00")]
    [InlineData("+1:00")]
    [InlineData("07.30")]
    [InlineData("0730 ")]
    [InlineData(" 7:30")]
    [InlineData("07:3 ")]
    [InlineData("07:30 ")]
    [InlineData("07:30:00")]
    [InlineData("٠٧:٣٠")]
    public void Anything_else_is_refused(string? text)
    {
        ClockPosition.TryParse(text, out var position).ShouldBeFalse();
        position.ShouldBe(default);
        Refusal.OfEntry("position", () => ClockPosition.Parse(text)).Message.ShouldContain("HH:MM");
    }

    [Fact]
    public void Every_position_is_read_back_from_its_own_text()
    {
        var texts = Enumerable.Range(0, 720).Select(minutes => new ClockPosition(minutes).ToString()).ToList();
        texts.Distinct().Count().ShouldBe(720);
        texts.Select(text => ClockPosition.Parse(text).Minutes).ShouldBe(Enumerable.Range(0, 720));
        (texts[0], texts[30], texts[719]).ShouldBe(("12:00", "12:30", "11:59"));
    }

    [Fact]
    public void The_text_form_is_the_same_in_every_culture()
    {
        var former = CultureInfo.CurrentCulture;
        try
        {
            CultureInfo.CurrentCulture = CultureInfo.GetCultureInfo("fa-IR");
            new ClockPosition(450).ToString().ShouldBe("07:30");
            Some.Mm(2.5m).ToString().ShouldBe("2.5 mm");
            new AlongSlide(0.25m, 0.5m, true).ToString().ShouldBe("0.25 to 0.5 along the slide, mirrored");
        }
        finally
        {
            CultureInfo.CurrentCulture = former;
        }
    }

    [Theory]
    [InlineData(-1)]
    [InlineData(720)]
    [InlineData(int.MaxValue)]
    [InlineData(int.MinValue)]
    public void Minutes_outside_the_circle_are_refused(int minutes) =>
        Refusal.OfEntry("position", () => _ = new ClockPosition(minutes));

    [Fact]
    public void The_default_is_twelve_o_clock()
    {
        default(ClockPosition).ShouldBe(ClockPosition.Twelve);
        default(ClockPosition).ToString().ShouldBe("12:00");
    }

    [Theory]
    [InlineData("12:00", 0, 0)]
    [InlineData("12:30", 15, 30)]
    [InlineData("03:00", 90, 180)]
    [InlineData("06:00", 180, 360)]
    [InlineData("11:59", 359.5, 719)]
    public void One_clock_minute_is_half_a_degree(string text, double degrees, int minutes)
    {
        var position = ClockPosition.Parse(text);
        position.Minutes.ShouldBe(minutes);
        position.Radians.ShouldBe(degrees * Math.PI / 180, 1e-12);
    }

    [Theory]
    [InlineData(700, 30, 10)]
    [InlineData(10, -30, 700)]
    [InlineData(0, -720, 0)]
    [InlineData(5, 720 * 7, 5)]
    [InlineData(700, int.MaxValue, 107)]
    [InlineData(700, int.MinValue, 572)]
    public void Going_further_runs_round_the_circle(int from, int minutes, int to) =>
        new ClockPosition(from).Plus(minutes).Minutes.ShouldBe(to);

    [Fact]
    public void The_way_clockwise_is_never_negative_and_never_a_whole_turn()
    {
        new ClockPosition(700).MinutesTo(new ClockPosition(10)).ShouldBe(30);
        new ClockPosition(10).MinutesTo(new ClockPosition(700)).ShouldBe(690);
        new ClockPosition(10).MinutesTo(new ClockPosition(10)).ShouldBe(0);
    }

    [Fact]
    public void Positions_are_ordered_from_twelve_o_clock()
    {
        var (early, late) = (ClockPosition.Parse("12:30"), ClockPosition.Parse("11:00"));
        bool[] holds = [early < late, late > early, early <= late, late >= early];
        bool[] fails = [early > late, late < early, early >= late, late <= early];
        holds.ShouldAllBe(held => held);
        fails.ShouldAllBe(held => !held);
        early.CompareTo(late).ShouldBeLessThan(0);
    }
}
