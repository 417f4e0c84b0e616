using StagedMargins.Core.Audit;

namespace StagedMargins.Core.Tests.Audit;

public sealed class MonthLimitsTests
{
    // NIST/SEMATECH e-Handbook 6.3.3.1: counts control charts, defects on 25 wafers, which are rates of one each; 28 lies on the limit and only
    // 31 beyond it.
    [Fact]
    public void Rates_of_equal_sizes_have_the_limits_of_the_handbook_s_counts_chart()
    {
        int[] counts = [16, 14, 28, 16, 12, 20, 10, 12, 10, 17, 19, 17, 14, 16, 15, 13, 14, 16, 11, 20, 11, 19, 16, 31, 13];
        var limits = MonthLimits.OfRates([.. counts.Select(count => new MonthCount(count, 1))])!;
        limits.Mean.ShouldBe(16);
        limits.Limits.ShouldAllBe(between => between == new Interval(4, 28));
        counts.Where((count, i) => count > limits.Limits[i].Upper).ShouldBe([31]);
    }

    // u ± 3·√(u/n) around 1.74, recomputed.
    [Theory]
    [InlineData(50, 1.180357, 2.299643)]
    [InlineData(100, 1.344273, 2.135727)]
    [InlineData(400, 1.542136, 1.937864)]
    public void Rates_have_wider_limits_in_a_smaller_month(long of, double lower, double upper)
    {
        var limits = MonthLimits.OfRates([new MonthCount(174 * of / 100, of), new MonthCount(1740, 1000)])!;
        limits.Mean.ShouldBe(1.74, 1e-9);
        limits.Limits[0].Lower.ShouldBe(lower, 1e-6);
        limits.Limits[0].Upper.ShouldBe(upper, 1e-6);
        (limits.Limits[1].Upper - limits.Limits[1].Lower).ShouldBeLessThan(upper - lower);
    }

    // An np chart of 50 lots of 200 with a mean share of 0.0357 has the upper limit 15.01184 (rstudio-pubs 1407303), which as a share is that ÷ 200.
    [Fact]
    public void Shares_have_the_limits_of_a_published_chart_of_equal_lots()
    {
        var limits = MonthLimits.OfShares([.. Enumerable.Range(0, 50).Select(i => new MonthCount(i < 43 ? 7 : 8, 200))])!;
        limits.Mean.ShouldBe(0.0357, 1e-12);
        limits.Limits.ShouldAllBe(between => between.Lower == 0 && Math.Abs(between.Upper - (15.01184 / 200)) < 1e-7);
    }

    [Fact]
    public void The_mean_weighs_each_month_by_its_size() =>
        MonthLimits.OfShares([new MonthCount(1, 2), new MonthCount(0, 98)])!.Mean.ShouldBe(0.01);

    [Fact]
    public void No_share_is_expected_above_one_or_below_none()
    {
        var limits = MonthLimits.OfShares([new MonthCount(1, 1), new MonthCount(9, 10)])!;
        limits.Limits[0].Upper.ShouldBe(1);
        MonthLimits.OfShares([new MonthCount(0, 1), new MonthCount(1, 10)])!.Limits[0].Lower.ShouldBe(0);
    }

    [Fact]
    public void One_month_alone_has_no_limits()
    {
        MonthLimits.OfRates([new MonthCount(4, 2)]).ShouldBeNull();
        MonthLimits.OfShares([]).ShouldBeNull();
    }
}
