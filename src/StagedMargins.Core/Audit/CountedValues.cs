namespace StagedMargins.Core.Audit;

/// <summary>
/// Whole numbers with how often each came, from which mean, spread and quantiles follow exactly. It grows with the number of
/// different values, not with the number of observations, so a database can count a million cases and hand over a few rows.
/// </summary>
public sealed class CountedValues
{
    private readonly SortedDictionary<int, long> counts = [];

    /// <summary>How many observations there are.</summary>
    public long Count { get; private set; }

    /// <summary>The sum of all observations.</summary>
    public long Sum { get; private set; }

    private Int128 SumOfSquares { get; set; }

    /// <summary>The values with how often each came, smallest value first.</summary>
    public IEnumerable<KeyValuePair<int, long>> Values => counts;

    /// <summary>Arithmetic mean; null without observations.</summary>
    public double? Mean => Count == 0 ? null : (double)Sum / Count;

    /// <summary>Sample standard deviation, with n − 1; null below two observations.</summary>
    public double? StandardDeviation => Count < 2
        ? null
        : Math.Sqrt((double)(((Int128)Count * SumOfSquares) - ((Int128)Sum * Sum)) / ((double)Count * (Count - 1)));

    /// <summary>Adds observations of one value.</summary>
    /// <param name="value">The value.</param>
    /// <param name="times">How often it came, 0 or more.</param>
    public void Add(int value, long times = 1)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(times);
        if (times == 0)
        {
            return;
        }

        counts[value] = counts.GetValueOrDefault(value) + times;
        Count += times;
        Sum += value * times;
        SumOfSquares += (Int128)value * value * times;
    }

    /// <summary>How many observations are at least as large as a value.</summary>
    public long CountFrom(int value) => counts.Where(pair => pair.Key >= value).Sum(pair => pair.Value);

    /// <summary>How many observations have a value.</summary>
    public long CountOf(int value) => counts.GetValueOrDefault(value);

    /// <summary>
    /// The quantile of a share, type 7 of Hyndman and Fan (Am Stat 1996;50:361–365): linear between the order statistics around
    /// (n − 1)·p, counted from 0. Null without observations.
    /// </summary>
    /// <param name="share">0 to 1, both included.</param>
    public double? Quantile(double share)
    {
        if (!(share is >= 0 and <= 1))
        {
            throw new ArgumentOutOfRangeException(nameof(share), "A share is 0 to 1.");
        }

        if (Count == 0)
        {
            return null;
        }

        var place = (Count - 1) * share;
        var below = (long)Math.Floor(place);
        var low = At(below);
        return low + ((place - below) * (At(Math.Min(below + 1, Count - 1)) - low));
    }

    private int At(long rank)
    {
        var seen = 0L;
        foreach (var (value, times) in counts)
        {
            seen += times;
            if (rank < seen)
            {
                return value;
            }
        }

        throw new ArgumentOutOfRangeException(nameof(rank));
    }
}
