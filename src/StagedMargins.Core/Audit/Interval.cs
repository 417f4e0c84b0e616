using MathNet.Numerics.Distributions;

namespace StagedMargins.Core.Audit;

/// <summary>Two limits around a figure.</summary>
/// <param name="Lower">The lower limit.</param>
/// <param name="Upper">The upper limit.</param>
public sealed record Interval(double Lower, double Upper)
{
    /// <summary>Standard normal deviate of two-sided 95 %.</summary>
    public const double Z95 = 1.959964;

    /// <summary>Standard normal deviate of two-sided 99.8 %.</summary>
    public const double Z998 = 3.090232;

    /// <summary>
    /// 95 % score interval of a share after Wilson, without continuity correction (Newcombe RG. Stat Med 1998;17:857–872,
    /// method 3).
    /// </summary>
    /// <param name="with">How many have it, 0 to <paramref name="all"/>.</param>
    /// <param name="all">Of how many, at least 1.</param>
    public static Interval Wilson(long with, long all)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(all, 1);
        ArgumentOutOfRangeException.ThrowIfNegative(with);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(with, all);
        var (n, share, square) = ((double)all, (double)with / all, Z95 * Z95);
        var middle = (share + (square / (2 * n))) / (1 + (square / n));
        var half = Z95 * Math.Sqrt((share * (1 - share) / n) + (square / (4 * n * n))) / (1 + (square / n));

        // At the ends the limit is exactly 0 or 1; rounding would miss it by a hair.
        return new Interval(with == 0 ? 0 : middle - half, with == all ? 1 : middle + half);
    }

    /// <summary>Exact 95 % interval of the mean of a Poisson count (Garwood F. Biometrika 1936;28:437–442).</summary>
    /// <param name="count">The count seen, 0 or more.</param>
    public static Interval Poisson(long count)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(count);
        return new Interval(
            count == 0 ? 0 : Gamma.InvCDF(count, 1, 0.025),
            Gamma.InvCDF(count + 1, 1, 0.975));
    }
}
