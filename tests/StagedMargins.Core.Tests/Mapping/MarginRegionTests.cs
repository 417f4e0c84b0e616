using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Tests.Mapping;

public sealed class MarginRegionTests
{
    [Fact]
    public void The_centre_is_one_more_element_of_the_set()
    {
        var (arc, both, centre) = (Some.Region("01:00-02:00"), Some.Region("01:00-02:00", "centre"), Some.Region("centre"));
        arc.Union(centre).ShouldBe(both);
        both.Except(arc).ShouldBe(centre);
        both.Except(centre).ShouldBe(arc);
        both.Intersect(centre).ShouldBe(centre);
        both.Contains(centre).ShouldBeTrue();
        arc.Contains(centre).ShouldBeFalse();
        centre.IsEmpty.ShouldBeFalse();
        MarginRegion.UnionOf([arc, centre, MarginRegion.None]).ShouldBe(both);
        MarginRegion.UnionOf([]).IsEmpty.ShouldBeTrue();
    }

    [Fact]
    public void Widening_leaves_the_centre_as_it_is()
    {
        Some.Region("01:00-02:00", "centre").Widen(15).ShouldBe(Some.Region("12:45-02:15", "centre"));
        Some.Region("centre").Widen(120).ShouldBe(Some.Region("centre"));
        Some.Region("01:00-02:00").Widen(720).Centre.ShouldBeFalse();
    }

    [Theory]
    [InlineData(-1)]
    [InlineData(121)]
    public void An_overlap_outside_the_setting_is_refused(int minutes) =>
        Refusal.OfEntry("overlapMinutes", () => _ = new Overlap(minutes));

    [Fact]
    public void An_overlap_may_be_none_or_two_hours_and_is_usually_a_quarter()
    {
        (new Overlap(0).Minutes, new Overlap(120).Minutes, Overlap.UsualMinutes).ShouldBe((0, 120, 15));
        default(Overlap).ShouldBe(new Overlap(0));
    }
}
