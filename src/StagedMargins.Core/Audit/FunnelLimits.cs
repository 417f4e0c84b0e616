namespace StagedMargins.Core.Audit;

/// <summary>
/// Where the mean stages per case of a group of n cases is to be expected if the group differs from the clinic by chance alone.
/// The model: θ0 ± z·s/√n with the clinic's pooled mean θ0 and pooled standard deviation s (limits for a mean after Spiegelhalter
/// DJ. Stat Med 2005;24:1185–1202; formula from memory). Stages per case start at 1 and vary less, or more, than a Poisson count,
/// so the spread is taken from the clinic's own cases and not from a distribution. A limit below 1 is shown as 1, as no mean lies
/// below it. Case mix is not adjusted for, and with few cases the normal law does not hold: such groups are marked small.
/// </summary>
/// <param name="Mean">The pooled mean.</param>
/// <param name="StandardDeviation">The pooled standard deviation.</param>
public sealed record FunnelLimits(double Mean, double StandardDeviation)
{
    /// <summary>The smallest group that is not small.</summary>
    public const int SmallBelow = 10;

    /// <summary>The limits of a clinic's cases; null below two cases.</summary>
    public static FunnelLimits? Of(CountedValues stages) =>
        stages is { Mean: { } mean, StandardDeviation: { } deviation } ? new FunnelLimits(mean, deviation) : null;

    /// <summary>Limits for a group of a size.</summary>
    /// <param name="cases">Its cases, at least 1; a fraction only to draw the limits between two sizes.</param>
    /// <param name="z">Normal deviate: <see cref="Interval.Z95"/> or <see cref="Interval.Z998"/>.</param>
    public Interval For(double cases, double z)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(cases, 1);
        var half = z * StandardDeviation / Math.Sqrt(cases);
        return new Interval(Math.Max(1, Mean - half), Mean + half);
    }
}
