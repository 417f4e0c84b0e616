namespace StagedMargins.Core.Audit;

/// <summary>What happened in a month.</summary>
/// <param name="Count">How often it did.</param>
/// <param name="Of">Out of how many: 1 or more.</param>
public sealed record MonthCount(long Count, long Of)
{
    /// <summary>How often for each.</summary>
    public double Rate => (double)Count / Of;
}

/// <summary>
/// Limits for the months of a chart, each by its own size, so that a month with many cases is not taken for one with many faults. The mean is
/// the pooled one, Σ count ÷ Σ of. What lies on a limit is not outside.
/// </summary>
/// <param name="Mean">The pooled mean.</param>
/// <param name="Limits">For each month in order, the limits between which its rate is to be expected.</param>
public sealed record MonthLimits(double Mean, IReadOnlyList<Interval> Limits)
{
    private const double Sigmas = 3;

    /// <summary>
    /// A u chart, for what can happen more than once to each: ū ± 3·√(ū/n), the lower limit not below 0 (NIST/SEMATECH e-Handbook 6.3.3.1, whose
    /// counts chart is the one with n = 1; from memory for unequal n). Null below two months.
    /// </summary>
    public static MonthLimits? OfRates(IReadOnlyList<MonthCount> months) => Of(months, (mean, n) => Math.Sqrt(mean / n), double.PositiveInfinity);

    /// <summary>
    /// A p chart, for what is true of each or not: p̄ ± 3·√(p̄(1 − p̄)/n), the limits not below 0 nor above 1 (NIST/SEMATECH e-Handbook 6.3.3.2; from
    /// memory). Null below two months.
    /// </summary>
    public static MonthLimits? OfShares(IReadOnlyList<MonthCount> months) => Of(months, (mean, n) => Math.Sqrt(mean * (1 - mean) / n), 1);

    private static MonthLimits? Of(IReadOnlyList<MonthCount> months, Func<double, long, double> deviation, double most)
    {
        if (months.Count < 2)
        {
            return null;
        }

        var mean = (double)months.Sum(month => month.Count) / months.Sum(month => month.Of);
        return new MonthLimits(mean, [.. months.Select(month => Around(Sigmas * deviation(mean, month.Of)))]);

        Interval Around(double half) => new(Math.Max(0, mean - half), Math.Min(most, mean + half));
    }
}
