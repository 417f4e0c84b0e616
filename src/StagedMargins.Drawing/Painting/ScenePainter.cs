using SkiaSharp;
using StagedMargins.Drawing.Lettering;
using StagedMargins.Drawing.Primitives;

namespace StagedMargins.Drawing.Painting;

/// <summary>Paints a scene on any canvas: of a picture, or of a page of a document.</summary>
public static class ScenePainter
{
    /// <summary>Paints a scene from the canvas's origin, one unit of the scene to one unit of the canvas.</summary>
    public static void Paint(SKCanvas canvas, MapScene scene) => Paint(canvas, scene.Groups.SelectMany(group => group.Items));

    /// <summary>Paints shapes in their order.</summary>
    internal static void Paint(SKCanvas canvas, IEnumerable<SceneItem> items)
    {
        foreach (var item in items)
        {
            switch (item)
            {
                case ScenePath path:
                    Paint(canvas, path);
                    break;
                case SceneText text:
                    Paint(canvas, text);
                    break;
                default:
                    throw new NotSupportedException($"A {item.GetType().Name} can't be painted.");
            }
        }
    }

    private static void Paint(SKCanvas canvas, ScenePath item)
    {
        using var path = ToPath(item);
        if (item.Fill is { } fill)
        {
            using var paint = new SKPaint { IsAntialias = true, Style = SKPaintStyle.Fill, Color = ToColour(fill) };
            canvas.DrawPath(path, paint);
        }

        if (item.Pen is { } pen)
        {
            using var dash = pen.Dash is { } d ? SKPathEffect.CreateDash([(float)d.On, (float)d.Off], 0) : null;
            using var paint = new SKPaint
            {
                IsAntialias = true,
                Style = SKPaintStyle.Stroke,
                Color = ToColour(pen.Colour),
                StrokeWidth = (float)pen.Width,
                StrokeCap = pen.Dash is null ? SKStrokeCap.Round : SKStrokeCap.Butt,
                StrokeJoin = SKStrokeJoin.Round,
                PathEffect = dash,
            };
            canvas.DrawPath(path, paint);
        }
    }

    private static void Paint(SKCanvas canvas, SceneText text)
    {
        using var font = MapTypeface.FontOf(text.Weight, text.Size);
        using var paint = new SKPaint { IsAntialias = true, Color = ToColour(text.Colour) };
        canvas.DrawText(text.Text, (float)text.Box.Left, (float)text.Anchor.Y, SKTextAlign.Left, font, paint);
    }

    private static SKPath ToPath(ScenePath item)
    {
        using var builder = new SKPathBuilder { FillType = SKPathFillType.EvenOdd };
        foreach (var contour in item.Contours)
        {
            builder.AddPoly([.. contour.Points.Select(p => new SKPoint((float)p.X, (float)p.Y))], contour.Closed);
        }

        return builder.Detach();
    }

    private static SKColor ToColour(SceneColour colour) => new(colour.Red, colour.Green, colour.Blue);
}
