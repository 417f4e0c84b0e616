using System.Buffers.Binary;
using System.Text;
using SkiaSharp;

namespace StagedMargins.Drawing.Tests.Photos;

/// <summary>Picture files as cameras and others make them, made here from invented pixels.</summary>
public static class CameraFile
{
    /// <summary>Letters that stand among the notes of a camera's file and must not be found again.</summary>
    public const string Secret = "PLACE-OF-THE-PATIENT";

    /// <summary>The colours of the quarters of the upright picture: left and right above, left and right below.</summary>
    public static readonly SKColor[] Quarters = [SKColors.Red, SKColors.Lime, SKColors.Blue, SKColors.Yellow];

    /// <summary>A picture of four quarters, stored as a camera that was held in some way stores it.</summary>
    /// <param name="width">Width of the upright picture.</param>
    /// <param name="height">Height of the upright picture.</param>
    /// <param name="orientation">The tag Orientation of EXIF, 1 to 8.</param>
    /// <param name="format">The kind of file.</param>
    public static byte[] Stored(int width, int height, int orientation = 1, SKEncodedImageFormat format = SKEncodedImageFormat.Jpeg)
    {
        var (rows, columns) = orientation >= 5 ? (width, height) : (height, width);
        var pixels = new SKColor[rows * columns];
        for (var row = 0; row < rows; row++)
        {
            for (var column = 0; column < columns; column++)
            {
                var (x, y) = Upright(orientation, row, column, width, height);
                pixels[(row * columns) + column] = Quarters[(x < width / 2 ? 0 : 1) + (y < height / 2 ? 0 : 2)];
            }
        }

        using var bitmap = new SKBitmap(columns, rows) { Pixels = pixels };
        using var data = bitmap.Encode(format, 95);
        return data.ToArray();
    }

    /// <summary>A JPEG with what a camera notes in it: how it was held, where it was (a GPS directory), a comment and a hidden picture.</summary>
    public static byte[] Jpeg(int width, int height, int orientation = 1)
    {
        var plain = Stored(width, height, orientation);
        return [.. plain[..2], .. Segment(0xE1, Exif(orientation)), .. Segment(0xFE, Encoding.ASCII.GetBytes(Secret)), .. plain[2..], .. Encoding.ASCII.GetBytes(Secret)];
    }

    /// <summary>A PNG with a text in it.</summary>
    public static byte[] Png(int width, int height)
    {
        var plain = Stored(width, height, format: SKEncodedImageFormat.Png);
        const int EndOfHeader = 8 + 25;
        return [.. plain[..EndOfHeader], .. Chunk("tEXt", Encoding.ASCII.GetBytes($"Comment\0{Secret}")), .. plain[EndOfHeader..]];
    }

    /// <summary>A PNG of a few bytes whose header says that it is huge.</summary>
    public static byte[] HugePng(int width, int height)
    {
        var header = new byte[13];
        BinaryPrimitives.WriteInt32BigEndian(header, width);
        BinaryPrimitives.WriteInt32BigEndian(header.AsSpan(4), height);
        (header[8], header[9]) = (8, 2);
        return [0x89, (byte)'P', (byte)'N', (byte)'G', 0x0D, 0x0A, 0x1A, 0x0A, .. Chunk("IHDR", header), .. Chunk("IDAT", [0x78, 0x9C, 0x03, 0, 0, 0, 0, 1]), .. Chunk("IEND", [])];
    }

    // The visual sides of row 0 and of column 0 for each value: EXIF 2.3 (CIPA DC-008), 4.6.4 A, from memory.
    private static (int X, int Y) Upright(int orientation, int row, int column, int width, int height)
    {
        (string Row0, string Column0) sides = orientation switch
        {
            2 => ("top", "right"),
            3 => ("bottom", "right"),
            4 => ("bottom", "left"),
            5 => ("left", "top"),
            6 => ("right", "top"),
            7 => ("right", "bottom"),
            8 => ("left", "bottom"),
            _ => ("top", "left"),
        };
        var (x, y) = (0, 0);
        foreach (var (side, steps) in new[] { (sides.Row0, row), (sides.Column0, column) })
        {
            x = side switch { "left" => steps, "right" => width - 1 - steps, _ => x };
            y = side switch { "top" => steps, "bottom" => height - 1 - steps, _ => y };
        }

        return (x, y);
    }

    // TIFF, big-endian: directory 0 with Orientation and the pointer to the GPS directory, which holds a latitude and a text.
    private static byte[] Exif(int orientation)
    {
        var tiff = new List<byte>("MM\0*"u8.ToArray());
        Long(8);
        Short(2);
        Entry(0x0112, 3, 1, orientation << 16);
        Entry(0x8825, 4, 1, 38);
        Long(0);
        Short(3);
        Entry(0x0001, 2, 2, 'N' << 24);
        Entry(0x0002, 5, 3, 80);
        Entry(0x001D, 2, Secret.Length + 1, 104);
        Long(0);
        foreach (var number in new[] { 12, 1, 34, 1, 56, 1 })
        {
            Long(number);
        }

        tiff.AddRange(Encoding.ASCII.GetBytes($"{Secret}\0"));
        return [.. "Exif\0\0"u8, .. tiff];

        void Short(int value) => tiff.AddRange([(byte)(value >> 8), (byte)value]);

        void Long(int value)
        {
            Short(value >> 16);
            Short(value);
        }

        void Entry(int tag, int type, int count, int value)
        {
            Short(tag);
            Short(type);
            Long(count);
            Long(value);
        }
    }

    private static byte[] Segment(byte marker, byte[] content) =>
        [0xFF, marker, (byte)((content.Length + 2) >> 8), (byte)(content.Length + 2), .. content];

    private static byte[] Chunk(string type, byte[] content)
    {
        var length = new byte[4];
        BinaryPrimitives.WriteInt32BigEndian(length, content.Length);
        byte[] named = [.. Encoding.ASCII.GetBytes(type), .. content];
        var check = new byte[4];
        BinaryPrimitives.WriteUInt32BigEndian(check, Crc(named));
        return [.. length, .. named, .. check];
    }

    // CRC of PNG chunks: ISO/IEC 15948, annex D.
    private static uint Crc(byte[] bytes)
    {
        var crc = uint.MaxValue;
        foreach (var one in bytes)
        {
            crc ^= one;
            for (var bit = 0; bit < 8; bit++)
            {
                crc = (crc & 1) == 1 ? (crc >> 1) ^ 0xEDB88320 : crc >> 1;
            }
        }

        return ~crc;
    }
}
