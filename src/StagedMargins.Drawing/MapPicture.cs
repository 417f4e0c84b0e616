using SkiaSharp;
using StagedMargins.Core;
using StagedMargins.Drawing.Painting;

namespace StagedMargins.Drawing;

/// <summary>Pictures of maps. The same scene and width give the same bytes.</summary>
public static class MapPicture
{
    /// <summary>The narrowest picture, pixels.</summary>
    public const int Narrowest = 200;

    /// <summary>The widest picture, pixels.</summary>
    public const int Widest = 4000;

    // Most of a map's time goes into the encoder: a fast setting costs some bytes and saves most of it.
    private static readonly SKPngEncoderOptions Encoding = new(SKPngEncoderFilterFlags.None, 1);

    /// <summary>Draws a map as PNG, in the detail that suits the width.</summary>
    /// <inheritdoc cref="ToPng(MapScene, int)"/>
    /// <param name="request">Which map.</param>
    /// <param name="width">Width in pixels, 200 to 4000.</param>
    public static byte[] ToPng(MapRequest request, int width) => ToPng(MapScene.Of(request, MapDetails.For(width)), width);

    /// <summary>Draws a map as SVG, in the detail that suits the width.</summary>
    /// <inheritdoc cref="ToSvg(MapScene, int)"/>
    /// <param name="request">Which map.</param>
    /// <param name="width">Width in pixels, 200 to 4000.</param>
    public static string ToSvg(MapRequest request, int width) => ToSvg(MapScene.Of(request, MapDetails.For(width)), width);

    /// <summary>Draws a scene as PNG.</summary>
    /// <param name="scene">The scene.</param>
    /// <param name="width">Width in pixels, 200 to 4000; the height follows from the scene.</param>
    /// <exception cref="InvalidEntryException">A width outside 200 to 4000.</exception>
    public static byte[] ToPng(MapScene scene, int width)
    {
        Guard(width);
        using var bitmap = new SKBitmap(new SKImageInfo(width, HeightFor(scene, width), SKColorType.Rgba8888, SKAlphaType.Opaque));
        using (var canvas = new SKCanvas(bitmap))
        {
            canvas.Clear(SKColors.White);
            canvas.Scale((float)(width / scene.Width));
            ScenePainter.Paint(canvas, scene);
        }

        return Encode(bitmap);
    }

    /// <summary>Writes a scene as SVG, an <c>svg</c> element with role, title and description.</summary>
    /// <param name="scene">The scene.</param>
    /// <param name="width">Width in pixels, 200 to 4000; the height follows from the scene.</param>
    /// <exception cref="InvalidEntryException">A width outside 200 to 4000.</exception>
    public static string ToSvg(MapScene scene, int width)
    {
        Guard(width);
        return SvgWriter.Write(scene, width);
    }

    /// <summary>The height that belongs to a width, pixels.</summary>
    public static int HeightFor(MapScene scene, int width) => (int)Math.Ceiling(scene.Height * width / scene.Width);

    internal static byte[] Encode(SKBitmap bitmap)
    {
        using var pixels = bitmap.PeekPixels();
        using var data = pixels.Encode(Encoding) ?? throw new InvalidOperationException("The picture could not be encoded.");
        return data.ToArray();
    }

    internal static void Guard(int width)
    {
        if (width is < Narrowest or > Widest)
        {
            throw new InvalidEntryException("width", $"A picture must be {Narrowest} to {Widest} pixels wide.");
        }
    }
}
