using CsCheck;
using StagedMargins.Core.Audit;

namespace StagedMargins.Core.Tests.Audit;

public sealed class CountedValuesTests
{
    // Hyndman and Fan, Am Stat 1996;50:361–365, type 7: h = (n − 1)p counted from 0. The numbers were recomputed from the definition.
    [Theory]
    [InlineData(0.10, 1.9)]
    [InlineData(0.25, 3.25)]
    [InlineData(0.50, 5.5)]
    [InlineData(0.75, 7.75)]
    [InlineData(0.90, 9.1)]
    [InlineData(0.95, 9.55)]
    [InlineData(0, 1)]
    [InlineData(1, 10)]
    public void A_quantile_of_one_to_ten_is_of_type_7(double share, double expected) =>
        Counted(1, 2, 3, 4, 5, 6, 7, 8, 9, 10).Quantile(share)!.Value.ShouldBe(expected, 1e-12);

    // The second data set of the same definition, as a public statistics manual uses it.
    [Theory]
    [InlineData(0.10, 2.6)]
    [InlineData(0.90, 16)]
    [InlineData(0.95, 18)]
    public void A_quantile_among_repeated_values_is_of_type_7(double share, double expected) =>
        Counted(1, 5, 5, 10, 20).Quantile(share)!.Value.ShouldBe(expected, 1e-12);

    // REGESMOHS registry, Actas Dermosifiliogr 2017, S1578-2190(17)30297-4 (abstract): 56.45, 32.1, 7.1, 2.7 and 1.8 % needed 1, 2, 3, 4
    // and 5 or more stages. With 5 taken for "5 or more" the printed shares, which add up to 100.15, give a mean of 1.6151.
    [Fact]
    public void The_mean_of_the_registry_s_distribution_is_the_one_it_gives()
    {
        var stages = new CountedValues();
        foreach (var (value, times) in new[] { (1, 5645), (2, 3210), (3, 710), (4, 270), (5, 180) })
        {
            stages.Add(value, times);
        }

        stages.Mean!.Value.ShouldBe(1.6151, 5e-5);
        stages.CountFrom(5).ShouldBe(180);
    }

    [Fact]
    public void Counted_values_have_the_figures_of_the_values_one_by_one() => Gen.Int[-40, 40].Array[2, 200].Sample(values =>
    {
        var counted = Counted(values);
        var mean = values.Average();
        counted.Mean!.Value.ShouldBe(mean, 1e-9);
        counted.StandardDeviation!.Value.ShouldBe(Math.Sqrt(values.Sum(value => (value - mean) * (value - mean)) / (values.Length - 1)), 1e-9);
        var sorted = values.Order().ToArray();
        var middle = values.Length / 2;
        counted.Quantile(0.5)!.Value.ShouldBe(values.Length % 2 == 1 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2.0, 1e-9);
    });

    [Fact]
    public void Nothing_has_no_figures_and_one_value_no_spread()
    {
        var nothing = new CountedValues();
        (nothing.Mean, nothing.StandardDeviation, nothing.Quantile(0.5)).ShouldBe((null, null, null));
        (Counted(3).Mean, Counted(3).StandardDeviation, Counted(3).Quantile(0.9)).ShouldBe((3, null, 3));
    }

    [Fact]
    public void A_share_outside_0_to_1_is_refused()
    {
        Should.Throw<ArgumentOutOfRangeException>(() => Counted(1).Quantile(1.01));
        Should.Throw<ArgumentOutOfRangeException>(() => Counted(1).Quantile(double.NaN));
        Should.Throw<ArgumentOutOfRangeException>(() => Counted(1).Add(1, -1));
    }

    [Fact]
    public void A_million_equal_values_have_no_spread()
    {
        var many = new CountedValues();
        many.Add(10_000, 1_000_000_000);
        many.StandardDeviation.ShouldBe(0);
    }

    private static CountedValues Counted(params int[] values)
    {
        var counted = new CountedValues();
        foreach (var value in values)
        {
            counted.Add(value);
        }

        return counted;
    }
}
