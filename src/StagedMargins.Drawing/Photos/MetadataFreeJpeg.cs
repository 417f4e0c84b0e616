using System.Buffers.Binary;

namespace StagedMargins.Drawing.Photos;

/// <summary>
/// Tells whether a JPEG file holds one picture and nothing besides: no camera's notes, no comment, no thumbnail, nothing after its
/// end. Markers after ITU-T T.81, Table B.1; the header of 16 bytes after JFIF 1.02 (ITU-T T.871, 10.1).
/// </summary>
internal static class MetadataFreeJpeg
{
    private const int LengthOfHeader = 16;
    private const byte Start = 0xD8;
    private const byte End = 0xD9;
    private const byte Scan = 0xDA;
    private const byte Header = 0xE0;

    // Baseline frame, Huffman tables, quantization tables, restart interval, scan.
    private static readonly byte[] Needed = [0xC0, 0xC4, 0xDB, 0xDD, Scan];

    /// <summary>True where it does.</summary>
    internal static bool Is(ReadOnlySpan<byte> file)
    {
        if (file.Length < 4 || file[0] != 0xFF || file[1] != Start)
        {
            return false;
        }

        var at = 2;
        while (at + 4 <= file.Length && file[at] == 0xFF)
        {
            var (marker, length) = (file[at + 1], BinaryPrimitives.ReadUInt16BigEndian(file[(at + 2)..]));
            var isHeader = marker == Header && length == LengthOfHeader && file[(at + 4)..].StartsWith("JFIF\0"u8);
            if (length < 2 || at + 2 + length > file.Length || !(isHeader || Needed.Contains(marker)))
            {
                return false;
            }

            at += 2 + length;
            if (marker == Scan)
            {
                return EndOf(file[at..]) == file.Length - at;
            }
        }

        return false;
    }

    // Behind the coded data of one scan; −1 where another marker than a restart stands in it.
    private static int EndOf(ReadOnlySpan<byte> coded)
    {
        for (var at = 0; at + 1 < coded.Length; at++)
        {
            var isMarker = coded[at] == 0xFF && coded[at + 1] is not (0 or >= 0xD0 and <= 0xD7);
            if (isMarker)
            {
                return coded[at + 1] == End ? at + 2 : -1;
            }
        }

        return -1;
    }
}
