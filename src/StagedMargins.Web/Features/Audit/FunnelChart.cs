using System.Globalization;
using ScottPlot;
using StagedMargins.Core.Audit;

namespace StagedMargins.Web.Features.Audit;

/// <summary>
/// Each surgeon's mean stages over the number of cases, within the limits that chance alone gives around the clinic's mean. Marks
/// carry a number and not a name, so that the picture can be handed round; the table beside it says whose each is.
/// </summary>
internal static class FunnelChart
{
    private const int Points = 80;

    /// <summary>The chart of an audit by surgeon, as PNG.</summary>
    internal static byte[] Draw(AuditView audit, int width)
    {
        var plot = ChartPicture.New("Mean stages per case by surgeon", "Cases", "Mean stages per case");
        var whole = audit.Clinic ?? audit;
        if (whole is { MeanStages: { } mean, SdStages: { } deviation })
        {
            Draw(plot, audit.Groups, new FunnelLimits(mean, deviation));
        }
        else
        {
            ChartPicture.Say(plot, "Fewer than two cases ended in this period.");
        }

        return ChartPicture.Png(plot, width);
    }

    private static void Draw(Plot plot, IReadOnlyList<GroupView> groups, FunnelLimits limits)
    {
        var most = Math.Max(2 * FunnelLimits.SmallBelow, groups.Select(group => group.Cases).DefaultIfEmpty(0).Max()) * 1.1;
        double[] sizes = [.. Enumerable.Range(0, Points).Select(i => 2 + ((most - 2) * i / (Points - 1)))];
        ChartPicture.Level(plot, limits.Mean, "clinic's mean", LinePattern.Solid);
        Limits(plot, sizes, limits, Interval.Z95, "95 % limits", LinePattern.Dashed);
        Limits(plot, sizes, limits, Interval.Z998, "99.8 % limits", LinePattern.Dotted);
        for (var i = 0; i < groups.Count; i++)
        {
            Mark(plot, groups[i], i + 1);
        }

        plot.Axes.AutoScale();
        plot.Axes.SetLimitsX(0, most);
    }

    private static void Mark(Plot plot, GroupView group, int number)
    {
        if (group.MeanStages is not { } mean)
        {
            return;
        }

        // A small group is an empty ring: it is shown, and is not for comparing.
        var mark = plot.Add.Marker(group.Cases, mean, group.SmallGroup ? MarkerShape.OpenCircle : MarkerShape.FilledCircle, 11, ChartPicture.Ink);
        mark.MarkerStyle.LineWidth = 1.8f;
        var label = plot.Add.Text(number.ToString(CultureInfo.InvariantCulture), group.Cases, mean);
        (label.LabelFontColor, label.LabelFontSize, label.OffsetX, label.OffsetY) = (ChartPicture.Ink, 13, 8, -18);
    }

    private static void Limits(Plot plot, double[] sizes, FunnelLimits limits, double z, string name, LinePattern pattern)
    {
        Interval[] at = [.. sizes.Select(size => limits.For(size, z))];
        ChartPicture.Curve(plot, sizes, [.. at.Select(interval => interval.Lower)], name, pattern);
        ChartPicture.Curve(plot, sizes, [.. at.Select(interval => interval.Upper)], null, pattern);
    }
}
