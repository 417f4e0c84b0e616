using SkiaSharp;
using StagedMargins.Core;
using StagedMargins.Core.Intake;

namespace StagedMargins.Drawing.Photos;

/// <summary>
/// A photo as it was sent, made into a picture of pixels alone: turned upright as its camera says, made smaller, and written anew, so
/// that no block of the file with a place, a device or a hidden picture is carried over.
/// </summary>
public static class PhotoFile
{
    /// <summary>The largest file that is taken, bytes.</summary>
    public const int MostBytes = 10 * 1024 * 1024;

    /// <summary>The most pixels a file may say it has; more are not decoded.</summary>
    public const long MostPixels = 50_000_000;

    /// <summary>The longest side that is kept, pixels.</summary>
    public const int LongestSide = 2000;

    /// <summary>The media type of what is kept.</summary>
    public const string ContentType = "image/jpeg";

    private const string Field = "photo";
    private const int Quality = 90;

    // Each pass over the picture costs the time of a whole one; cameras write about ten.
    private const int MostPasses = 100;

    private static readonly float[] Scales = [0.125f, 0.25f, 0.5f];

    /// <summary>The picture of a file.</summary>
    /// <param name="file">The file as it was sent, at most <see cref="MostBytes"/>.</param>
    /// <exception cref="InvalidEntryException">Neither JPEG nor PNG by its content, too large, or damaged.</exception>
    public static BarePicture Read(ReadOnlySpan<byte> file)
    {
        GuardKind(file);
        using var data = SKData.CreateCopy(file);
        using var codec = SKCodec.Create(data) ?? throw Damaged();
        var size = codec.Info.Size;
        if ((long)size.Width * size.Height > MostPixels)
        {
            throw new InvalidEntryException(Field, $"The picture has {size.Width} × {size.Height} pixels; the limit is {MostPixels / 1_000_000} million. Send a smaller one.");
        }

        using var decoded = Decode(codec);
        return Write(decoded, codec.EncodedOrigin);
    }

    /// <summary>A picture that this program wrote elsewhere, as it is.</summary>
    /// <param name="file">The file.</param>
    /// <exception cref="InvalidEntryException">It is not one that this program writes.</exception>
    public static BarePicture ReadBare(byte[] file)
    {
        if (file.Length > MostBytes || !MetadataFreeJpeg.Is(file))
        {
            throw new InvalidEntryException(Field, "This is not a photo as stored by this program: a JPEG picture and nothing else.");
        }

        using var data = SKData.CreateCopy(file);
        using var codec = SKCodec.Create(data) ?? throw Damaged();
        var size = codec.Info.Size;
        return Math.Max(size.Width, size.Height) <= LongestSide
            ? new BarePicture(ContentType, size.Width, size.Height, file)
            : throw new InvalidEntryException(Field, $"A stored photo has at most {LongestSide} pixels on a side.");
    }

    // By what the file holds: a name or a header of the request can say anything.
    private static void GuardKind(ReadOnlySpan<byte> file)
    {
        var isJpeg = file.StartsWith((ReadOnlySpan<byte>)[0xFF, 0xD8, 0xFF]);
        var isPng = file.StartsWith((ReadOnlySpan<byte>)[0x89, (byte)'P', (byte)'N', (byte)'G', 0x0D, 0x0A, 0x1A, 0x0A]);
        if (!isJpeg && !isPng)
        {
            throw new InvalidEntryException(Field, "This is neither a JPEG nor a PNG picture. Send the photo in one of these formats.");
        }

        if (file.Length > MostBytes)
        {
            throw new InvalidEntryException(Field, $"A photo may be at most {MostBytes / 1024 / 1024} MiB.");
        }

        if (isJpeg && file.Count((ReadOnlySpan<byte>)[0xFF, 0xDA]) > MostPasses)
        {
            throw Damaged();
        }
    }

    private static SKBitmap Decode(SKCodec codec)
    {
        var size = SmallestThatSuffices(codec);
        var bitmap = new SKBitmap();
        using var srgb = SKColorSpace.CreateSrgb();
        var info = new SKImageInfo(size.Width, size.Height, SKColorType.Rgba8888, SKAlphaType.Premul, srgb);
        if (bitmap.TryAllocPixels(info) && codec.GetPixels(info, bitmap.GetPixels()) == SKCodecResult.Success)
        {
            return bitmap;
        }

        bitmap.Dispose();
        throw Damaged();
    }

    // A JPEG can be decoded at a half, a quarter or an eighth; what remains to be made smaller is then less than a half.
    private static SKSizeI SmallestThatSuffices(SKCodec codec) => Scales
        .Select(codec.GetScaledDimensions)
        .Append(codec.Info.Size)
        .First(size => Math.Max(size.Width, size.Height) >= LongestSide || size == codec.Info.Size);

    private static BarePicture Write(SKBitmap decoded, SKEncodedOrigin origin)
    {
        var (width, height) = IsOnItsSide(origin) ? (decoded.Height, decoded.Width) : (decoded.Width, decoded.Height);
        var scale = Math.Min(1f, LongestSide / (float)Math.Max(width, height));
        var (keptWidth, keptHeight) = (Math.Max(1, (int)MathF.Round(width * scale)), Math.Max(1, (int)MathF.Round(height * scale)));

        // Without a colour space, for the writer would note one in the file; the pixels are sRGB already.
        using var surface = SKSurface.Create(new SKImageInfo(keptWidth, keptHeight, SKColorType.Rgba8888, SKAlphaType.Opaque));
        var canvas = surface.Canvas;
        canvas.Clear(SKColors.White);
        canvas.Scale(keptWidth / (float)width, keptHeight / (float)height);
        canvas.Concat(Upright(origin, width, height));
        using var image = SKImage.FromBitmap(decoded);
        canvas.DrawImage(image, 0, 0, new SKSamplingOptions(SKFilterMode.Linear, SKMipmapMode.Linear));
        using var kept = surface.Snapshot();
        using var file = kept.Encode(SKEncodedImageFormat.Jpeg, Quality);
        return new BarePicture(ContentType, keptWidth, keptHeight, file.ToArray());
    }

    private static bool IsOnItsSide(SKEncodedOrigin origin) => origin >= SKEncodedOrigin.LeftTop;

    // The eight values of the tag Orientation: EXIF 2.3 (CIPA DC-008), 4.6.4 A. Width and height are those of the upright picture.
    private static SKMatrix Upright(SKEncodedOrigin origin, float width, float height) => origin switch
    {
        SKEncodedOrigin.TopRight => new SKMatrix(-1, 0, width, 0, 1, 0, 0, 0, 1),
        SKEncodedOrigin.BottomRight => new SKMatrix(-1, 0, width, 0, -1, height, 0, 0, 1),
        SKEncodedOrigin.BottomLeft => new SKMatrix(1, 0, 0, 0, -1, height, 0, 0, 1),
        SKEncodedOrigin.LeftTop => new SKMatrix(0, 1, 0, 1, 0, 0, 0, 0, 1),
        SKEncodedOrigin.RightTop => new SKMatrix(0, -1, width, 1, 0, 0, 0, 0, 1),
        SKEncodedOrigin.RightBottom => new SKMatrix(0, -1, width, -1, 0, height, 0, 0, 1),
        SKEncodedOrigin.LeftBottom => new SKMatrix(0, 1, 0, -1, 0, height, 0, 0, 1),
        _ => SKMatrix.Identity,
    };

    private static InvalidEntryException Damaged() => new(Field, "The picture can't be read completely. Take it again, or save it again as JPEG or PNG.");
}
