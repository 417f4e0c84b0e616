namespace StagedMargins.Core.Audit;

/// <summary>
/// Limits of a counts chart: c̄ ± 3·√c̄, the lower one not below 0 (NIST/SEMATECH e-Handbook 6.3.3.1). It takes the counts for
/// independent and each month for an equal chance to count, so a month with many more cases lies above it more easily.
/// </summary>
/// <param name="Mean">Mean of the counts.</param>
/// <param name="Limits">Between these a count is to be expected.</param>
public sealed record CountLimits(double Mean, Interval Limits)
{
    /// <summary>The limits of counts; null below two of them.</summary>
    public static CountLimits? Of(IReadOnlyList<long> counts)
    {
        if (counts.Count < 2)
        {
            return null;
        }

        var mean = counts.Average();
        var half = 3 * Math.Sqrt(mean);
        return new CountLimits(mean, new Interval(Math.Max(0, mean - half), mean + half));
    }
}
