namespace StagedMargins.Core.Audit;

/// <summary>Agreement of two readers beyond chance (Cohen J. Educ Psychol Meas 1960;20:37–46).</summary>
/// <param name="Observed">Share on which they agree.</param>
/// <param name="Expected">Share on which they would agree by chance.</param>
/// <param name="Value">(observed − expected) ÷ (1 − expected), −1 to 1.</param>
/// <param name="StandardError">√(observed·(1 − observed) ÷ n) ÷ (1 − expected), the simple form of 1960.</param>
public sealed record Kappa(double Observed, double Expected, double Value, double StandardError)
{
    /// <summary>95 % interval, not cut at 1, so that it stays the formula's.</summary>
    public Interval Interval95 => new(Value - (Interval.Z95 * StandardError), Value + (Interval.Z95 * StandardError));

    /// <summary>
    /// The agreement of a square table: rows one reader, columns the other, the same categories in the same order. Null where it
    /// has no meaning: without pairs, or where both gave one and the same category throughout.
    /// </summary>
    /// <exception cref="ArgumentException">Not square, or a count below 0.</exception>
    public static Kappa? Of(long[][] table)
    {
        if (table.Any(row => row.Length != table.Length || row.Any(count => count < 0)))
        {
            throw new ArgumentException("A table of agreement is square and holds counts.", nameof(table));
        }

        var all = table.Sum(row => row.Sum(count => (double)count));
        var observed = Enumerable.Range(0, table.Length).Sum(i => table[i][i]) / all;
        var expected = Enumerable.Range(0, table.Length).Sum(i => table[i].Sum(count => (double)count) * table.Sum(row => (double)row[i])) / (all * all);
        return all == 0 || expected >= 1
            ? null
            : new Kappa(observed, expected, (observed - expected) / (1 - expected), Math.Sqrt(observed * (1 - observed) / all) / (1 - expected));
    }
}
