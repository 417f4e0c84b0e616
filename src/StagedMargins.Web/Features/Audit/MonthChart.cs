using ScottPlot;
using StagedMargins.Core.Audit;

namespace StagedMargins.Web.Features.Audit;

/// <summary>Mean stages of each month that has cases, with the limits of an individuals-and-moving-range chart.</summary>
internal static class MonthChart
{
    private const int MostLabels = 12;

    /// <summary>The chart of an audit by month, as PNG.</summary>
    internal static byte[] Of(AuditView audit, int width)
    {
        var plot = ChartPicture.New("Mean stages per case by month", "Month in which the case ended", "Mean stages per case");
        var months = audit.Groups.Where(month => month.MeanStages is not null).ToList();
        if (months.Count == 0)
        {
            ChartPicture.Say(plot, "No case ended in this period.");
            return ChartPicture.Png(plot, width);
        }

        double[] means = [.. months.Select(month => month.MeanStages!.Value)];
        if (MovingRangeLimits.Of(means) is { } limits)
        {
            ChartPicture.Level(plot, limits.Mean, "mean of the months", LinePattern.Solid);
            ChartPicture.Level(plot, limits.Individuals.Upper, "limits, mean ± 2.66 moving ranges", LinePattern.Dashed);
            if (limits.Individuals.Lower > 1)
            {
                ChartPicture.Level(plot, limits.Individuals.Lower, "", LinePattern.Dashed);
            }
        }

        double[] places = [.. Enumerable.Range(0, means.Length).Select(i => (double)i)];
        var line = plot.Add.Scatter(places, means, ChartPicture.Ink);
        (line.LineWidth, line.MarkerSize, line.MarkerShape, line.LegendText) = (1.5f, 9, MarkerShape.FilledCircle, "month");
        var every = (months.Count + MostLabels - 1) / MostLabels;
        var labelled = Enumerable.Range(0, months.Count).Where(i => i % every == 0).ToList();
        plot.Axes.Bottom.SetTicks([.. labelled.Select(i => (double)i)], [.. labelled.Select(i => months[i].Key)]);
        plot.Axes.Margins(0.05, 0.15);
        return ChartPicture.Png(plot, width);
    }
}
