namespace StagedMargins.Core.Audit;

/// <summary>Limits of an individuals-and-moving-range chart.</summary>
/// <param name="Mean">Mean of the individual values.</param>
/// <param name="MeanMovingRange">Mean of the ranges between neighbours.</param>
/// <param name="Individuals">Limits of the individual values: mean ± 3·MR̄ ÷ d2.</param>
/// <param name="UpperMovingRange">Upper limit of the moving range: D4·MR̄.</param>
public sealed record MovingRangeLimits(double Mean, double MeanMovingRange, Interval Individuals, double UpperMovingRange)
{
    /// <summary>d2 of two neighbours, to the four digits that tables print (NIST/SEMATECH e-Handbook 6.3.2.2); 3 ÷ d2 is the 2.66 of practice.</summary>
    public const double D2 = 1.128;

    /// <summary>D4 of two neighbours, as tables print it (from memory).</summary>
    public const double D4 = 3.267;

    /// <summary>The limits of values in order of time; null below two values.</summary>
    public static MovingRangeLimits? Of(IReadOnlyList<double> values)
    {
        if (values.Count < 2)
        {
            return null;
        }

        var mean = values.Average();
        var range = values.Zip(values.Skip(1), (one, next) => Math.Abs(next - one)).Average();
        return new MovingRangeLimits(mean, range, new Interval(mean - (3 * range / D2), mean + (3 * range / D2)), D4 * range);
    }
}
