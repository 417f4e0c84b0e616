using ScottPlot;
using StagedMargins.Core.Audit;

namespace StagedMargins.Web.Features.Audit;

/// <summary>Mean stages of each month that has cases as an individuals-and-moving-range chart: the means above, how far each lies from the month before below.</summary>
internal static class MonthChart
{
    private const int MostLabels = 12;

    // For each pixel of the picture's width.
    private const double HeightOfMeans = 0.5;
    private const double HeightOfRanges = 0.4;
    private const float RoomForNumbers = 70;

    /// <summary>The chart of an audit by month, as PNG.</summary>
    internal static byte[] Draw(AuditView audit, int width)
    {
        var months = audit.Groups.Where(month => month.MeanStages is not null).ToList();
        if (months.Count == 0)
        {
            var empty = ChartPicture.New("Mean stages per case by month", "Month in which the case ended", "Mean stages per case");
            ChartPicture.Say(empty, "No cases ended in this period.");
            return ChartPicture.Png(empty, width);
        }

        double[] means = [.. months.Select(month => month.MeanStages!.Value)];
        var limits = MovingRangeLimits.Of(means);
        var (upper, lower) = ((int)(width * HeightOfMeans), (int)(width * HeightOfRanges));
        return ChartPicture.Png(Labelled(Means(means, limits), months), upper, Labelled(Ranges(means, limits), months), lower, width);
    }

    private static Plot Means(double[] means, MovingRangeLimits? limits)
    {
        var plot = ChartPicture.New("Mean stages per case by month", "", "Mean stages per case");
        if (limits is not null)
        {
            ChartPicture.Level(plot, limits.Mean, "mean of all months", LinePattern.Solid);
            ChartPicture.Level(plot, limits.Individuals.Upper, "limits, mean ± 2.66 mean moving ranges", LinePattern.Dashed);
            if (limits.Individuals.Lower > 1)
            {
                ChartPicture.Level(plot, limits.Individuals.Lower, "", LinePattern.Dashed);
            }
        }

        Points(plot, 0, means, "month");
        var outside = Enumerable.Range(0, means.Length).Where(i => limits is not null && (means[i] > limits.Individuals.Upper || means[i] < limits.Individuals.Lower));
        Ring(plot, outside, means, 0);
        return plot;
    }

    private static Plot Ranges(double[] means, MovingRangeLimits? limits)
    {
        var plot = ChartPicture.New("Moving range: difference from the month before", "Month in which the case ended", "Difference");
        if (limits is null)
        {
            ChartPicture.Say(plot, "Needs two months with cases.");
            return plot;
        }

        double[] ranges = [.. means.Zip(means.Skip(1), (one, next) => Math.Abs(next - one))];
        ChartPicture.Level(plot, limits.MeanMovingRange, "mean moving range", LinePattern.Solid);
        ChartPicture.Level(plot, limits.UpperMovingRange, "upper limit, 3.267 mean moving ranges", LinePattern.Dashed);
        Points(plot, 1, ranges, "difference");
        Ring(plot, Enumerable.Range(0, ranges.Length).Where(i => ranges[i] > limits.UpperMovingRange), ranges, 1);
        return plot;
    }

    private static void Points(Plot plot, int first, double[] values, string name)
    {
        var line = plot.Add.Scatter([.. Enumerable.Range(first, values.Length).Select(i => (double)i)], values, ChartPicture.Ink);
        (line.LineWidth, line.MarkerSize, line.MarkerShape, line.LegendText) = (1.5f, 9, MarkerShape.FilledCircle, name);
    }

    // A ring around what lies outside, told apart without colour.
    private static void Ring(Plot plot, IEnumerable<int> outside, double[] values, int first)
    {
        var name = "outside the limits";
        foreach (var i in outside)
        {
            var ring = plot.Add.Marker(first + i, values[i], MarkerShape.OpenCircle, 20, ChartPicture.Ink);
            (ring.MarkerStyle.LineWidth, ring.LegendText) = (2, name);
            name = "";
        }
    }

    private static Plot Labelled(Plot plot, List<GroupView> months)
    {
        var every = (months.Count + MostLabels - 1) / MostLabels;
        var labelled = Enumerable.Range(0, months.Count).Where(i => i % every == 0).ToList();
        plot.Axes.Bottom.SetTicks([.. labelled.Select(i => (double)i)], [.. labelled.Select(i => months[i].Key)]);
        plot.Axes.Margins(0.05, 0.15);
        plot.Axes.AutoScale();
        plot.Axes.SetLimitsX(-0.5, months.Count - 0.5);
        (plot.Axes.Left.MinimumSize, plot.Axes.Left.MaximumSize) = (RoomForNumbers, RoomForNumbers);
        return plot;
    }
}
