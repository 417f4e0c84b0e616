using ScottPlot;
using SkiaSharp;
using StagedMargins.Core;
using StagedMargins.Drawing;

namespace StagedMargins.Web.Features.Audit;

/// <summary>What the charts of the audit share: size, letters and lines that can be told apart in black and white print.</summary>
internal static class ChartPicture
{
    /// <summary>The media type.</summary>
    internal const string MediaType = "image/png";

    /// <summary>Ink of lines, marks and letters.</summary>
    internal static readonly Color Ink = Color.FromHex("#1c2733");

    private const string Family = "Atkinson Hyperlegible";
    private const int UsualWidth = 1000;
    private const int LeastWidth = 400;
    private const int MostWidth = 3000;
    private const double LayoutWidth = 900;

    // The plotting library looks for its typeface in a list of the whole process.
    static ChartPicture() => Fonts.FontResolvers.Insert(0, new EmbeddedTypeface());

    /// <summary>A width that a chart can have, px.</summary>
    /// <exception cref="InvalidEntryException">Out of range.</exception>
    internal static int CheckWidth(int? width) => width switch
    {
        null => UsualWidth,
        >= LeastWidth and <= MostWidth => width.Value,
        _ => throw new InvalidEntryException("width", $"{LeastWidth} to {MostWidth} pixels."),
    };

    /// <summary>An empty chart with its words.</summary>
    internal static Plot New(string title, string across, string up)
    {
        var plot = new Plot();
        plot.Title(title);
        plot.XLabel(across);
        plot.YLabel(up);
        plot.FigureBackground.Color = Colors.White;
        plot.DataBackground.Color = Colors.White;
        plot.Grid.MajorLineColor = Color.FromHex("#d4dae0");
        plot.Font.Set(Family);
        plot.Axes.Color(Ink);
        return plot;
    }

    /// <summary>A level line with its name in the key.</summary>
    internal static void Level(Plot plot, double at, string name, LinePattern pattern)
    {
        var line = plot.Add.HorizontalLine(at, 1.8f, Ink, pattern);
        line.LegendText = name;
    }

    /// <summary>A line through points, without marks.</summary>
    internal static void Curve(Plot plot, double[] xs, double[] ys, string? name, LinePattern pattern)
    {
        var curve = plot.Add.ScatterLine(xs, ys, Ink);
        (curve.LineWidth, curve.LinePattern) = (1.8f, pattern);
        curve.LegendText = name ?? "";
    }

    /// <summary>Words where there is nothing to draw.</summary>
    internal static void Say(Plot plot, string words)
    {
        plot.Axes.SetLimits(0, 1, 0, 1);
        var text = plot.Add.Text(words, 0.5, 0.5);
        (text.LabelFontName, text.LabelFontSize, text.LabelAlignment, text.LabelFontColor) = (Family, 18, Alignment.MiddleCenter, Ink);
    }

    /// <summary>The picture.</summary>
    internal static byte[] Png(Plot plot, int width)
    {
        Finish(plot, width);
        return plot.GetImage(width, width * 2 / 3).GetImageBytes(ImageFormat.Png);
    }

    /// <summary>One chart above the other.</summary>
    internal static byte[] Png(Plot upper, int upperHeight, Plot lower, int lowerHeight, int width)
    {
        using var surface = SKSurface.Create(new SKImageInfo(width, upperHeight + lowerHeight));
        foreach (var (plot, top, height) in new[] { (upper, 0, upperHeight), (lower, upperHeight, lowerHeight) })
        {
            Finish(plot, width);
            using var picture = SKImage.FromEncodedData(plot.GetImage(width, height).GetImageBytes(ImageFormat.Png));
            surface.Canvas.DrawImage(picture, 0, top, SKSamplingOptions.Default);
        }

        return new Image(surface).GetImageBytes(ImageFormat.Png);
    }

    private static void Finish(Plot plot, int width)
    {
        plot.ScaleFactor = width / LayoutWidth;
        if (plot.PlottableList.Exists(drawn => drawn.LegendItems.Any()))
        {
            var key = plot.ShowLegend(Edge.Bottom).Legend;
            (key.FontName, key.TightHorizontalWrapping, key.InterItemPadding) = (Family, true, new PixelPadding(14, 6));
            (key.SymbolWidth, key.OutlineColor, key.ShadowColor) = (36, Colors.Transparent, Colors.Transparent);
        }
    }

    private sealed class EmbeddedTypeface : IFontResolver
    {
        private static readonly SKTypeface Regular = Load("AtkinsonHyperlegible-Regular.ttf");
        private static readonly SKTypeface Bold = Load("AtkinsonHyperlegible-Bold.ttf");

        public SKTypeface? CreateTypeface(string fontName, FontWeight weight, FontSlant slant, FontSpacing width) => weight >= FontWeight.SemiBold ? Bold : Regular;

        public SKTypeface? CreateTypeface(string fontName, bool bold, bool italic) => bold ? Bold : Regular;

        private static SKTypeface Load(string name)
        {
            using var stream = typeof(MapPicture).Assembly.GetManifestResourceStream(name)!;
            return SKTypeface.FromStream(stream);
        }
    }
}
