namespace StagedMargins.Core.FollowUp;

/// <summary>A step of the curve, at a time when a tumour came back.</summary>
/// <param name="Days">Days after the end of the case.</param>
/// <param name="AtRisk">Cases followed so long without a recurrence before.</param>
/// <param name="Recurrences">How many came back then.</param>
/// <param name="Share">The share free of recurrence from then on, 0 to 1.</param>
/// <param name="StandardError">Its standard error by Greenwood's formula; null where the share is 0, for which the formula has no value.</param>
/// <param name="Lower95">Lower end of the 95 % interval.</param>
/// <param name="Upper95">Upper end of the 95 % interval.</param>
public sealed record RecurrenceStep(int Days, int AtRisk, int Recurrences, double Share, double? StandardError, double? Lower95, double? Upper95);

/// <summary>
/// The share free of recurrence over time, by the product-limit estimate (Kaplan and Meier 1958), with plain 95 % intervals from
/// Greenwood's variance (1926), cut at 0 and 1. A case lost from sight on a day counts as at risk on that day.
/// </summary>
/// <param name="Cases">Cases followed.</param>
/// <param name="Recurrences">Cases that came back.</param>
/// <param name="Steps">The steps, by time; none before the first recurrence, when the share is 1 and no interval can be given.</param>
/// <param name="Lost">Days after which each case without a recurrence was last seen, in order.</param>
/// <param name="LongestDays">The longest time anyone was followed, days.</param>
public sealed record RecurrenceCurve(int Cases, int Recurrences, IReadOnlyList<RecurrenceStep> Steps, IReadOnlyList<int> Lost, int LongestDays)
{
    /// <summary>Fewer cases than this are a small group: shown as such.</summary>
    public const int SmallBelow = 10;

    /// <summary>The normal deviate of a two-sided 95 % interval.</summary>
    private const double Z95 = 1.959963984540054;

    /// <summary>Works out the curve.</summary>
    public static RecurrenceCurve Of(IReadOnlyCollection<FollowedCase> cases)
    {
        var steps = new List<RecurrenceStep>();
        var (share, greenwood) = (1.0, 0.0);
        foreach (var day in cases.Where(followed => followed.Recurrence).GroupBy(followed => followed.Days).OrderBy(group => group.Key))
        {
            var (atRisk, events) = (cases.Count(followed => followed.Days >= day.Key), day.Count());
            share *= (atRisk - events) / (double)atRisk;
            greenwood += events / ((double)atRisk * (atRisk - events));
            steps.Add(Step(day.Key, atRisk, events, share, atRisk == events ? null : share * Math.Sqrt(greenwood)));
        }

        return new RecurrenceCurve(cases.Count, steps.Sum(step => step.Recurrences), steps, [.. cases.Where(followed => !followed.Recurrence).Select(followed => followed.Days).Order()], cases.Select(followed => followed.Days).DefaultIfEmpty().Max());
    }

    /// <summary>The share free of recurrence at a time, 0 to 1.</summary>
    public double ShareAt(int days) => Steps.LastOrDefault(step => step.Days <= days)?.Share ?? 1;

    /// <summary>Cases followed at least so long without a recurrence before.</summary>
    public int AtRiskAt(int days) => Lost.Count(lost => lost >= days) + Steps.Where(step => step.Days >= days).Sum(step => step.Recurrences);

    private static RecurrenceStep Step(int days, int atRisk, int events, double share, double? error) => new(
        days,
        atRisk,
        events,
        share,
        error,
        error is { } below ? Math.Max(0, share - (Z95 * below)) : null,
        error is { } above ? Math.Min(1, share + (Z95 * above)) : null);
}
