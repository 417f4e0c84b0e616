using SkiaSharp;
using StagedMargins.Core.FollowUp;
using StagedMargins.Drawing.Lettering;
using StagedMargins.Drawing.Primitives;

namespace StagedMargins.Drawing.FollowUp;

/// <summary>The share free of recurrence over time as a picture: steps, 95 % limits, cases last seen, and how many were at risk.</summary>
public static class RecurrencePicture
{
    private const double DaysOfMonth = 30.4375;
    private const double DaysOfYear = 365.25;
    private const int MostTicks = 8;
    private const float Wide = 1000;
    private const float High = 640;
    private static readonly SKRect Field = new(90, 90, 960, 500);

    /// <summary>Draws the curve as PNG. The same curve and width give the same bytes.</summary>
    /// <param name="curve">The curve.</param>
    /// <param name="width">Width in pixels, 200 to 4000.</param>
    /// <exception cref="Core.InvalidEntryException">A width outside 200 to 4000.</exception>
    public static byte[] ToPng(RecurrenceCurve curve, int width)
    {
        MapPicture.Guard(width);
        using var bitmap = new SKBitmap(new SKImageInfo(width, (int)Math.Ceiling(High * width / Wide), SKColorType.Rgba8888, SKAlphaType.Opaque));
        using (var canvas = new SKCanvas(bitmap))
        {
            canvas.Clear(SKColors.White);
            canvas.Scale(width / Wide);
            Write(canvas, "Share free of recurrence after a case ended as cleared", 40, 46, 26, TextWeight.Bold);
            Write(canvas, Subtitle(curve), 40, 74, 18, TextWeight.Regular);
            if (curve.Cases > 0)
            {
                DrawAxes(canvas, curve);
                DrawCurve(canvas, curve);
            }
        }

        return MapPicture.Encode(bitmap);
    }

    private static string Subtitle(RecurrenceCurve curve) => curve switch
    {
        { Cases: 0 } => "No case that ended as cleared has a visit yet.",
        { Cases: < RecurrenceCurve.SmallBelow } => $"{curve.Cases} cases, {curve.Recurrences} recurrences: a small group, interpret with care. Dashed: 95 % limits.",
        _ => $"{curve.Cases} cases, {curve.Recurrences} recurrences. Dashed: 95 % limits (Greenwood). Ticks: last seen.",
    };

    private static void DrawAxes(SKCanvas canvas, RecurrenceCurve curve)
    {
        foreach (var percent in new[] { 0, 20, 40, 60, 80, 100 })
        {
            var y = YOf(percent / 100.0);
            Line(canvas, Palette.Hairline, 1, null, new SKPoint(Field.Left, y), new SKPoint(Field.Right, y));
            Write(canvas, $"{percent} %", Field.Left - 12, y + 6, 18, TextWeight.Regular, TextAlign.End);
        }

        var (unit, name) = curve.LongestDays > 2 * DaysOfYear ? (DaysOfYear, "years") : (DaysOfMonth, "months");
        var step = Math.Max(1, (int)Math.Ceiling(curve.LongestDays / unit / MostTicks));
        for (var tick = 0; tick * unit <= curve.LongestDays; tick += step)
        {
            var days = (int)Math.Ceiling(tick * unit);
            var x = XOf(curve, tick * unit);
            Line(canvas, Palette.Text, 2, null, new SKPoint(x, Field.Bottom), new SKPoint(x, Field.Bottom + 8));
            Write(canvas, FormattableString.Invariant($"{tick}"), x, Field.Bottom + 30, 18, TextWeight.Regular, TextAlign.Middle);
            Write(canvas, FormattableString.Invariant($"{curve.AtRiskAt(days)}"), x, Field.Bottom + 100, 18, TextWeight.Regular, TextAlign.Middle);
        }

        Line(canvas, Palette.Text, 2, null, new SKPoint(Field.Left, Field.Bottom), new SKPoint(Field.Right, Field.Bottom));
        Write(canvas, $"{name} after the end of the case", (Field.Left + Field.Right) / 2, Field.Bottom + 54, 18, TextWeight.Regular, TextAlign.Middle);
        Write(canvas, "Cases still followed:", 40, Field.Bottom + 78, 18, TextWeight.Bold);
    }

    private static void DrawCurve(SKCanvas canvas, RecurrenceCurve curve)
    {
        Line(canvas, Palette.Target, 2, [10, 7], Steps(curve, step => step.Lower95));
        Line(canvas, Palette.Target, 2, [10, 7], Steps(curve, step => step.Upper95));
        Line(canvas, Palette.Text, 4, null, Steps(curve, step => step.Share));
        foreach (var days in curve.Lost)
        {
            var (x, y) = (XOf(curve, days), YOf(curve.ShareAt(days)));
            Line(canvas, Palette.Text, 2, null, new SKPoint(x, y - 8), new SKPoint(x, y + 8));
        }
    }

    // From 1 down at each recurrence; a line of limits ends where the formula has no value any more.
    private static SKPoint[] Steps(RecurrenceCurve curve, Func<RecurrenceStep, double?> value)
    {
        var points = new List<SKPoint> { new(Field.Left, YOf(1)) };
        foreach (var step in curve.Steps)
        {
            if (value(step) is not { } share)
            {
                return [.. points, new SKPoint(XOf(curve, step.Days), points[^1].Y)];
            }

            var x = XOf(curve, step.Days);
            points.AddRange([new SKPoint(x, points[^1].Y), new SKPoint(x, YOf(share))]);
        }

        return [.. points, new SKPoint(XOf(curve, curve.LongestDays), points[^1].Y)];
    }

    private static float XOf(RecurrenceCurve curve, double days) => Field.Left + (float)(Field.Width * days / Math.Max(1, curve.LongestDays));

    private static float YOf(double share) => Field.Bottom - (float)(Field.Height * share);

    private static void Line(SKCanvas canvas, SceneColour colour, float wide, float[]? dash, params SKPoint[] points)
    {
        using var effect = dash is null ? null : SKPathEffect.CreateDash(dash, 0);
        using var paint = new SKPaint { IsAntialias = true, Style = SKPaintStyle.Stroke, StrokeWidth = wide, Color = new SKColor(colour.Red, colour.Green, colour.Blue), PathEffect = effect };
        using var builder = new SKPathBuilder();
        builder.AddPoly(points, close: false);
        using var path = builder.Detach();
        canvas.DrawPath(path, paint);
    }

    private static void Write(SKCanvas canvas, string text, float x, float y, double size, TextWeight weight, TextAlign align = TextAlign.Start)
    {
        using var font = MapTypeface.FontOf(weight, size);
        using var paint = new SKPaint { IsAntialias = true, Color = new SKColor(Palette.Text.Red, Palette.Text.Green, Palette.Text.Blue) };
        var side = align switch { TextAlign.Start => SKTextAlign.Left, TextAlign.Middle => SKTextAlign.Center, _ => SKTextAlign.Right };
        canvas.DrawText(text, x, y, side, font, paint);
    }
}
