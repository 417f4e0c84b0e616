using CsCheck;
using StagedMargins.Core.ClockFace;

namespace StagedMargins.Core.Tests.ClockFace;

public sealed class ClockArcTests
{
    [Theory]
    [InlineData("07:30-09:00", 90)]
    [InlineData("11:00-01:00", 120)]
    [InlineData("12:00-12:01", 1)]
    [InlineData("12:01-12:00", 719)]
    [InlineData("12:00-12:00", 720)]
    [InlineData("03:00-03:00", 720)]
    public void The_length_runs_clockwise_and_is_never_zero(string arc, int minutes) => Some.Arc(arc).Minutes.ShouldBe(minutes);

    [Theory]
    [InlineData("11:00-01:00", "11:00", true)]
    [InlineData("11:00-01:00", "12:00", true)]
    [InlineData("11:00-01:00", "12:59", true)]
    [InlineData("11:00-01:00", "01:00", false)]
    [InlineData("11:00-01:00", "10:59", false)]
    [InlineData("03:00-03:00", "02:59", true)]
    public void It_holds_its_first_position_and_not_its_last(string arc, string position, bool holds) =>
        Some.Arc(arc).Contains(ClockPosition.Parse(position)).ShouldBe(holds);

    [Fact]
    public void The_default_is_the_whole_circle()
    {
        default(ClockArc).ShouldBe(ClockArc.Whole);
        ClockArc.Whole.IsWhole.ShouldBeTrue();
        ClockArc.Whole.ToString().ShouldBe("12:00–12:00");
        Some.Arc("12:00-12:01").IsWhole.ShouldBeFalse();
    }

    [Theory]
    [InlineData(0)]
    [InlineData(-1)]
    [InlineData(721)]
    public void A_length_outside_the_circle_is_refused(int minutes) =>
        Refusal.OfEntry("arc", () => ClockArc.Starting(default, minutes)).Message.ShouldContain("1 to 720");

    [Fact]
    public void Both_ends_must_be_clock_positions()
    {
        Refusal.OfEntry("position", () => ClockArc.Parse("07:30", null));
        Refusal.OfEntry("position", () => ClockArc.Parse("7:30", "09:00"));
        ClockArc.Parse("00:30", "01:00").ShouldBe(Some.Arc("12:30-01:00"));
    }

    [Fact]
    public void An_arc_of_a_length_begins_and_ends_where_it_should() =>
        Gen.Select(Gen.Int[0, 719], Gen.Int[1, 720]).Sample((from, minutes) =>
        {
            var arc = ClockArc.Starting(new ClockPosition(from), minutes);
            arc.Minutes.ShouldBe(minutes);
            Enumerable.Range(0, 720).Where(position => arc.Contains(new ClockPosition(position))).Order()
                .ShouldBe(Enumerable.Range(from, minutes).Select(position => position % 720).Order());
        });
}
