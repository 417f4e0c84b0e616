using StagedMargins.Core.Audit;

namespace StagedMargins.Core.Tests.Audit;

public sealed class IntervalTests
{
    // Newcombe RG. Stat Med 1998;17:857–872, Table I, method 3 (score, no continuity correction); six digits recomputed.
    [Theory]
    [InlineData(81, 263, 0.255289, 0.366210)]
    [InlineData(15, 148, 0.062386, 0.160487)]
    [InlineData(0, 20, 0, 0.161125)]
    [InlineData(1, 29, 0.006113, 0.171755)]
    [InlineData(29, 29, 0.8830, 1)]
    // 49 of 137 (Krishnan et al., JAMA Dermatol 2017;153:565–570) and 71 of 116 (Calvao et al., An Bras Dermatol 2022;97:291–297), recomputed.
    [InlineData(49, 137, 0.282292, 0.440801)]
    [InlineData(71, 116, 0.521161, 0.695792)]
    public void A_share_has_Wilson_s_interval(long with, long all, double lower, double upper)
    {
        var interval = Interval.Wilson(with, all);
        interval.Lower.ShouldBe(lower, 5e-5);
        interval.Upper.ShouldBe(upper, 5e-5);
    }

    [Fact]
    public void The_interval_of_none_begins_at_0_and_that_of_all_ends_at_1()
    {
        Interval.Wilson(0, 7).Lower.ShouldBe(0);
        Interval.Wilson(7, 7).Upper.ShouldBe(1);
        Should.Throw<ArgumentOutOfRangeException>(() => Interval.Wilson(0, 0));
        Should.Throw<ArgumentOutOfRangeException>(() => Interval.Wilson(8, 7));
    }

    // Garwood F. Biometrika 1936;28:437–442; numbers recomputed.
    [Theory]
    [InlineData(0, 0, 3.688879)]
    [InlineData(1, 0.025318, 5.571643)]
    [InlineData(3, 0.618672, 8.767273)]
    [InlineData(5, 1.623486, 11.668332)]
    [InlineData(10, 4.795389, 18.390356)]
    [InlineData(11, 5.491160, 19.682039)]
    [InlineData(12, 6.200575, 20.961585)]
    [InlineData(100, 81.363991, 121.626794)]
    public void A_count_has_the_exact_Poisson_interval(long count, double lower, double upper)
    {
        var interval = Interval.Poisson(count);
        interval.Lower.ShouldBe(lower, 1e-6);
        interval.Upper.ShouldBe(upper, 1e-6);
    }

    // Spiegelhalter DJ. Stat Med 2005;24:1185–1202: θ0 ± z·σ/√n. For a share θ0 = 0.5645, σ = √(θ0(1 − θ0)); numbers recomputed.
    [Theory]
    [InlineData(100, 0.6617, 0.7177)]
    [InlineData(25, 0.7589, 0.8709)]
    public void Funnel_limits_narrow_with_the_root_of_the_cases(long cases, double upper95, double upper998)
    {
        // A share and one more than it have the same spread, and the mean of the latter is never below 1.
        var limits = new FunnelLimits(1 + 0.5645, Math.Sqrt(0.5645 * (1 - 0.5645)));
        limits.For(cases, Interval.Z95).Upper.ShouldBe(1 + upper95, 6e-5);
        limits.For(cases, Interval.Z998).Upper.ShouldBe(1 + upper998, 6e-5);
        limits.For(cases, Interval.Z95).Lower.ShouldBe(1 + 0.5645 - (upper95 - 0.5645), 6e-5);
    }

    [Fact]
    public void No_funnel_limit_lies_below_one_stage() => new FunnelLimits(1.3, 0.9).For(1, Interval.Z998).Lower.ShouldBe(1);

    // NIST/SEMATECH e-Handbook 6.3.2.2: individuals control charts.
    [Fact]
    public void Individuals_have_the_limits_of_the_handbook()
    {
        var limits = MovingRangeLimits.Of([49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1])!;
        limits.Mean.ShouldBe(50.81, 1e-9);
        limits.MeanMovingRange.ShouldBe(1.877778, 5e-7);
        limits.Individuals.Upper.ShouldBe(55.8041, 5e-5);
        limits.Individuals.Lower.ShouldBe(45.8159, 5e-5);
        limits.UpperMovingRange.ShouldBe(6.13470, 5e-6);
    }

    // The sample data set SHWIR1 of SAS/QC; results recomputed with 2.66 and 3.267, hence to the accuracy of 3 ÷ 1.128 = 2.6596.
    [Fact]
    public void A_second_published_series_has_its_limits()
    {
        var limits = MovingRangeLimits.Of([78.4, 80.1, 84.4, 79.1, 80.4, 83.5, 73.8, 83.5, 75.0, 76.8, 70.5, 80.3, 82.4, 79.4, 86.4, 90.5, 77.7, 82.5, 79.9, 83.2])!;
        limits.Mean.ShouldBe(80.39, 1e-9);
        limits.MeanMovingRange.ShouldBe(5.326316, 5e-7);
        limits.Individuals.Upper.ShouldBe(94.555733, 3e-3);
        limits.UpperMovingRange.ShouldBe(17.401074, 5e-6);
    }

    [Fact]
    public void One_month_alone_has_no_limits() => MovingRangeLimits.Of([1.7]).ShouldBeNull();

    // Cohen J. Educ Psychol Meas 1960;20:37–46 (the formula); the paradox after Feinstein and Cicchetti 1990 (from memory).
    [Theory]
    [InlineData(20, 5, 10, 15, 0.70, 0.50, 0.40)]
    [InlineData(12, 2, 4, 2, 0.70, 0.62, 0.210526)]
    [InlineData(118, 5, 2, 0, 0.944, 0.945280, -0.023392)]
    [InlineData(45, 15, 25, 15, 0.60, 0.54, 0.130435)]
    [InlineData(25, 35, 5, 35, 0.60, 0.46, 0.259259)]
    public void Two_readers_agree_beyond_chance_by_Cohen_s_kappa(int a, int b, int c, int d, double observed, double expected, double value)
    {
        var kappa = Kappa.Of([[a, b], [c, d]])!;
        kappa.Observed.ShouldBe(observed, 1e-6);
        kappa.Expected.ShouldBe(expected, 1e-6);
        kappa.Value.ShouldBe(value, 1e-6);
    }

    // The formula of Fleiss, Cohen and Everitt, Psychol Bull 1969;72:323–327 (from memory). The numbers were worked out apart from it, by the delta
    // method with derivatives taken numerically.
    [Theory]
    [InlineData(20, 5, 10, 15, 0.126996)]
    [InlineData(12, 2, 4, 2, 0.232093)]
    [InlineData(118, 5, 2, 0, 0.012287)]
    [InlineData(45, 15, 25, 15, 0.098662)]
    [InlineData(25, 35, 5, 35, 0.077160)]
    public void Kappa_has_the_standard_error_of_large_samples(int a, int b, int c, int d, double error) =>
        Kappa.Of([[a, b], [c, d]])!.StandardError.ShouldBe(error, 1e-6);

    [Fact]
    public void Kappa_of_three_categories_has_it_too()
    {
        var kappa = Kappa.Of([[44, 5, 1], [7, 20, 3], [9, 5, 6]])!;
        kappa.Value.ShouldBe(0.491525, 1e-6);
        kappa.StandardError.ShouldBe(0.072127, 1e-6);
    }

    [Fact]
    public void The_interval_of_kappa_ends_where_kappa_does()
    {
        var kappa = Kappa.Of([[20, 5], [10, 15]])!;
        kappa.Interval95.Lower.ShouldBe(0.4 - (1.959964 * 0.126996), 2e-6);
        kappa.Interval95.Upper.ShouldBe(0.4 + (1.959964 * 0.126996), 2e-6);
        Kappa.Of([[9, 1], [0, 2]])!.Interval95.Upper.ShouldBe(1);
        Kappa.Of([[1, 9], [8, 1]])!.Interval95.Lower.ShouldBe(-1);
        Kappa.Of([[8, 0], [0, 8]])!.Interval95.ShouldBe(new Interval(1, 1));
    }

    [Fact]
    public void Kappa_has_no_meaning_below_10_pairs_or_without_a_second_category()
    {
        Kappa.Of([[0, 0], [0, 0]]).ShouldBeNull();
        Kappa.Of([[5, 1], [1, 2]]).ShouldBeNull();
        Kappa.Of([[5, 1], [1, 3]]).ShouldNotBeNull();
        Kappa.Of([[19, 0], [0, 0]]).ShouldBeNull();
        Should.Throw<ArgumentException>(() => Kappa.Of([[1, 2]]));
    }
}
