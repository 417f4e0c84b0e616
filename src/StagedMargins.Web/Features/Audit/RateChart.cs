using StagedMargins.Core.Audit;

namespace StagedMargins.Web.Features.Audit;

/// <summary>How often something happens a month, for months of unequal size.</summary>
/// <param name="Figure">What, by its name among the figures.</param>
/// <param name="Chart"><c>u</c> for a rate of what can happen more than once to each, <c>p</c> for a share.</param>
/// <param name="Per">Out of what: <c>cases</c> or <c>readings</c>.</param>
/// <param name="Mean">The pooled mean.</param>
/// <param name="Months">The months that have any of them, in order.</param>
public sealed record RateChart(string Figure, string Chart, string Per, double Mean, IReadOnlyList<RateOfMonth> Months)
{
    /// <summary>The charts of months.</summary>
    public static IReadOnlyList<RateChart> AllOf(IReadOnlyList<GroupView> months) =>
    [
        .. new[]
        {
            Rates("amendments", "readings", months, month => new MonthCount(month.Amendments, month.Readings)),
            Rates("corrections", "cases", months, month => new MonthCount(month.Corrections, month.Cases)),
            Rates("reopenings", "cases", months, month => new MonthCount(month.Reopenings, month.Cases)),
            Shares("recalls", "cases", months, month => new MonthCount(month.Recalls, month.Cases)),
            Shares("unreadable", "readings", months, month => new MonthCount(month.Unreadable, month.Readings)),
            Shares("notSeen", "readings", months, month => new MonthCount(month.NotSeen, month.Readings)),
        }.OfType<RateChart>(),
    ];

    private static RateChart? Rates(string figure, string per, IReadOnlyList<GroupView> months, Func<GroupView, MonthCount> counted) =>
        Of(figure, "u", per, months, counted, MonthLimits.OfRates);

    private static RateChart? Shares(string figure, string per, IReadOnlyList<GroupView> months, Func<GroupView, MonthCount> counted) =>
        Of(figure, "p", per, months, counted, MonthLimits.OfShares);

    private static RateChart? Of(
        string figure, string chart, string per, IReadOnlyList<GroupView> months, Func<GroupView, MonthCount> counted, Func<IReadOnlyList<MonthCount>, MonthLimits?> limits)
    {
        var rows = months.Select(month => (month.Key, Count: counted(month))).Where(row => row.Count.Of > 0).ToList();
        return limits([.. rows.Select(row => row.Count)]) is { } found
            ? new RateChart(figure, chart, per, found.Mean, [.. rows.Zip(found.Limits, (row, between) => new RateOfMonth(row.Key, row.Count.Rate, between.Lower, between.Upper))])
            : null;
    }
}

/// <summary>A month of a chart.</summary>
/// <param name="Key">The month.</param>
/// <param name="Rate">How often for each.</param>
/// <param name="Lower">The lower limit.</param>
/// <param name="Upper">The upper limit.</param>
public sealed record RateOfMonth(string Key, double Rate, double Lower, double Upper)
{
    /// <summary>True above the upper limit or below the lower one: worth a look.</summary>
    public bool Outside => Rate > Upper || Rate < Lower;
}
