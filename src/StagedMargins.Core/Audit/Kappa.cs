namespace StagedMargins.Core.Audit;

/// <summary>Agreement of two readers beyond chance (Cohen J. Educ Psychol Meas 1960;20:37–46).</summary>
/// <param name="Observed">Share on which they agree.</param>
/// <param name="Expected">Share on which they would agree by chance.</param>
/// <param name="Value">(observed − expected) ÷ (1 − expected), −1 to 1.</param>
/// <param name="StandardError">The large-sample standard error of Fleiss JL, Cohen J, Everitt BS. Psychol Bull 1969;72:323–327 (formula from memory, checked against the delta method).</param>
public sealed record Kappa(double Observed, double Expected, double Value, double StandardError)
{
    /// <summary>With fewer pairs than these, agreement is not worked out: the standard error is one of large samples (common practice, no source).</summary>
    public const int FewestPairs = 10;

    /// <summary>95 % interval, cut to −1 to 1, where kappa lies.</summary>
    public Interval Interval95 => new(Math.Max(-1, Value - (Interval.Z95 * StandardError)), Math.Min(1, Value + (Interval.Z95 * StandardError)));

    /// <summary>
    /// The agreement of a square table: rows one reader, columns the other, the same categories in the same order. Null where it
    /// has no meaning: with fewer than 10 pairs, or where both gave one and the same category throughout.
    /// </summary>
    /// <exception cref="ArgumentException">Not square, or a count below 0.</exception>
    public static Kappa? Of(long[][] table)
    {
        if (table.Any(row => row.Length != table.Length || row.Any(count => count < 0)))
        {
            throw new ArgumentException("A table of agreement is square and holds counts.", nameof(table));
        }

        var all = table.Sum(row => row.Sum(count => (double)count));
        if (all < FewestPairs)
        {
            return null;
        }

        double[][] shares = [.. table.Select(row => row.Select(count => count / all).ToArray())];
        double[] rows = [.. shares.Select(row => row.Sum())];
        double[] columns = [.. table.Select((_, j) => shares.Sum(row => row[j]))];
        var observed = table.Select((_, i) => shares[i][i]).Sum();
        var expected = rows.Zip(columns, (row, column) => row * column).Sum();
        return expected >= 1
            ? null
            : new Kappa(observed, expected, (observed - expected) / (1 - expected), Math.Sqrt(Math.Max(0, Spread(shares, rows, columns, observed, expected)) / all) / Math.Pow(1 - expected, 2));
    }

    // What stands in braces in the variance of 1969: agreeing cells, the others, and what both have in common.
    private static double Spread(double[][] shares, double[] rows, double[] columns, double observed, double expected)
    {
        var sum = 0.0;
        for (var i = 0; i < shares.Length; i++)
        {
            for (var j = 0; j < shares.Length; j++)
            {
                var weight = i == j ? (1 - expected) - ((rows[i] + columns[i]) * (1 - observed)) : (1 - observed) * (columns[i] + rows[j]);
                sum += shares[i][j] * weight * weight;
            }
        }

        return sum - Math.Pow((observed * expected) - (2 * expected) + observed, 2);
    }
}
