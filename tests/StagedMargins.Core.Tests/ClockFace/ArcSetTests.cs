using StagedMargins.Core.ClockFace;

namespace StagedMargins.Core.Tests.ClockFace;

public sealed class ArcSetTests
{
    [Fact]
    public void Arcs_that_overlap_or_touch_become_one()
    {
        Some.Arcs("07:30-09:00", "08:00-10:00").ShouldBe([Some.Arc("07:30-10:00")]);
        Some.Arcs("09:00-10:00", "07:30-09:00").ShouldBe([Some.Arc("07:30-10:00")]);
        Some.Arcs("07:30-09:00", "09:01-10:00").Count.ShouldBe(2);
    }

    [Fact]
    public void An_arc_over_twelve_o_clock_stays_one_arc()
    {
        var set = Some.Arcs("11:00-12:00", "12:00-01:00");
        set.ShouldBe([Some.Arc("11:00-01:00")]);
        set.ToString().ShouldBe("11:00–01:00");
        Some.Arcs("11:00-01:00", "03:00-04:00").Select(arc => arc.ToString()).ShouldBe(["03:00–04:00", "11:00–01:00"]);
    }

    [Theory]
    [InlineData("12:00-06:00", "06:00-12:00")]
    [InlineData("03:00-03:00", "12:00-12:01")]
    [InlineData("03:00-02:00", "01:00-04:00")]
    public void The_whole_circle_is_one_arc_from_twelve_to_twelve(string first, string second)
    {
        var set = Some.Arcs(first, second);
        set.ShouldBe([ClockArc.Whole]);
        set.IsFull.ShouldBeTrue();
        set.ShouldBe(ArcSet.Full);
        set.ToString().ShouldBe("whole circle");
    }

    [Fact]
    public void No_arc_is_the_empty_set()
    {
        ArcSet.Of().ShouldBe(ArcSet.Empty);
        ArcSet.Empty.IsEmpty.ShouldBeTrue();
        ArcSet.Empty.Minutes.ShouldBe(0);
        ArcSet.Empty.ToString().ShouldBe("none");
        ArcSet.Empty.Complement().ShouldBe(ArcSet.Full);
        ArcSet.Full.Complement().ShouldBe(ArcSet.Empty);
    }

    [Fact]
    public void What_a_layer_misses_by_a_minute_stays()
    {
        Some.Arcs("07:30-09:00").Except(Some.Arcs("07:31-09:00")).ShouldBe(Some.Arcs("07:30-07:31"));
        Some.Arcs("07:30-09:00").Except(Some.Arcs("07:30-08:59")).ShouldBe(Some.Arcs("08:59-09:00"));
        Some.Arcs("07:30-09:00").Except(Some.Arcs("07:30-09:00")).ShouldBe(ArcSet.Empty);
    }

    [Fact]
    public void Neighbours_that_only_touch_have_nothing_in_common() =>
        Some.Arcs("07:30-09:00").Intersect(Some.Arcs("09:00-10:00")).ShouldBe(ArcSet.Empty);

    [Theory]
    [InlineData("07:30-09:00", 15, "07:15-09:15")]
    [InlineData("12:10-12:20", 15, "11:55-12:35")]
    [InlineData("11:50-11:55", 15, "11:35-12:10")]
    [InlineData("12:00-12:01", 359, "06:01-06:00")]
    [InlineData("12:00-12:01", 360, "12:00-12:00")]
    [InlineData("12:00-12:01", int.MaxValue, "12:00-12:00")]
    [InlineData("12:01-12:00", 1, "12:00-12:00")]
    public void Widening_reaches_both_ways(string arc, int minutes, string wide) =>
        Some.Arcs(arc).Widen(minutes).ShouldBe(Some.Arcs(wide));

    [Fact]
    public void Widening_joins_arcs_that_come_to_touch() =>
        Some.Arcs("01:00-02:00", "02:30-03:00").Widen(15).ShouldBe(Some.Arcs("12:45-03:15"));

    [Fact]
    public void Widening_the_empty_set_finds_nothing_to_widen() => ArcSet.Empty.Widen(400).ShouldBe(ArcSet.Empty);

    [Fact]
    public void A_set_is_never_narrowed_by_widening() => Refusal.OfEntry("minutes", () => Some.Arcs("01:00-02:00").Widen(-1));

    [Fact]
    public void A_set_equals_only_sets()
    {
        Some.Arcs("01:00-02:00").Equals(null).ShouldBeFalse();
        Some.Arcs("01:00-02:00").Equals((object)"01:00–02:00").ShouldBeFalse();
        Some.Arcs("01:00-02:00").Equals((object)Some.Arcs("01:00-02:00")).ShouldBeTrue();
    }
}
