using CsCheck;
using StagedMargins.Core.FollowUp;

namespace StagedMargins.Core.Tests.FollowUp;

public sealed class RecurrenceCurveTests
{
    /// <summary>
    /// The 6-mercaptopurine arm of Freireich EJ and others, Blood 1963;21:699-716, as handbooks print it (weeks; censored times apart), with the
    /// product-limit estimates and Greenwood standard errors of those handbooks: data and results from memory.
    /// </summary>
    [Theory]
    [InlineData(6, 21, 3, 0.8571, 0.0764)]
    [InlineData(7, 17, 1, 0.8067, 0.0869)]
    [InlineData(10, 15, 1, 0.7529, 0.0963)]
    [InlineData(13, 12, 1, 0.6902, 0.1068)]
    [InlineData(16, 11, 1, 0.6275, 0.1141)]
    [InlineData(22, 7, 1, 0.5378, 0.1282)]
    [InlineData(23, 6, 1, 0.4482, 0.1346)]
    public void The_curve_of_the_published_example_is_met(int time, int atRisk, int events, double share, double error)
    {
        int[] events6Mp = [6, 6, 6, 7, 10, 13, 16, 22, 23];
        int[] censored = [6, 9, 10, 11, 17, 19, 20, 25, 32, 32, 34, 35];
        var curve = RecurrenceCurve.Of([.. events6Mp.Select(t => new FollowedCase(t, true)), .. censored.Select(t => new FollowedCase(t, false))]);
        (curve.Cases, curve.Recurrences, curve.Steps.Count, curve.LongestDays).ShouldBe((21, 9, 7, 35));
        var step = curve.Steps.Single(step => step.Days == time);
        (step.AtRisk, step.Recurrences).ShouldBe((atRisk, events));
        step.Share.ShouldBe(share, 0.00005);
        step.StandardError!.Value.ShouldBe(error, 0.00005);
        step.Lower95!.Value.ShouldBe(share - (1.959964 * error), 0.0002);
        step.Upper95!.Value.ShouldBe(Math.Min(1, share + (1.959964 * error)), 0.0002);
    }

    /// <summary>Without cases lost from sight the estimate is the plain share, and Greenwood's variance the binomial one: a closed form.</summary>
    [Fact]
    public void Without_losses_the_curve_is_the_plain_share_with_the_binomial_error() => Gen.Int[0, 40].Array[2, 60].Sample(times =>
    {
        foreach (var step in RecurrenceCurve.Of([.. times.Select(t => new FollowedCase(t, true))]).Steps)
        {
            var share = times.Count(t => t > step.Days) / (double)times.Length;
            step.Share.ShouldBe(share, 1e-9);
            if (share > 0)
            {
                step.StandardError!.Value.ShouldBe(Math.Sqrt(share * (1 - share) / times.Length), 1e-9);
            }
            else
            {
                (step.StandardError, step.Lower95, step.Upper95).ShouldBe((null, null, null));
            }
        }
    });

    [Fact]
    public void Before_any_recurrence_no_interval_is_claimed()
    {
        var curve = RecurrenceCurve.Of([new FollowedCase(100, false), new FollowedCase(200, false)]);
        (curve.Cases, curve.Recurrences, curve.Steps.Count, curve.LongestDays).ShouldBe((2, 0, 0, 200));
        RecurrenceCurve.Of([]).LongestDays.ShouldBe(0);
    }
}
