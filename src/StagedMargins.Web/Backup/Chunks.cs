using System.Buffers.Binary;

namespace StagedMargins.Web.Backup;

/// <summary>
/// How an encrypted backup stands in its file: a header (name, version, random salt), then chunks of AES-256-GCM, each with its tag.
/// The nonce of a chunk is its place and whether it is the last, so that none can be moved, doubled, taken out or cut off unseen.
/// </summary>
internal static class Chunks
{
    /// <summary>Bytes of a whole chunk before encryption.</summary>
    internal const int PlainBytes = 64 * 1024;

    /// <summary>Bytes of a tag.</summary>
    internal const int TagBytes = 16;

    /// <summary>Bytes of a whole chunk in the file.</summary>
    internal const int SealedBytes = PlainBytes + TagBytes;

    /// <summary>Bytes of the header.</summary>
    internal const int HeaderBytes = 48;

    /// <summary>Bytes of a nonce.</summary>
    internal const int NonceBytes = 12;

    /// <summary>How the header of an encrypted backup begins: name and version.</summary>
    internal static ReadOnlySpan<byte> Name => "StagedMargins\0\0\u0001"u8;

    /// <summary>Writes the nonce of a chunk.</summary>
    internal static void Nonce(Span<byte> nonce, long index, bool isLast)
    {
        nonce.Clear();
        BinaryPrimitives.WriteInt64BigEndian(nonce[3..], index);
        nonce[^1] = isLast ? (byte)1 : (byte)0;
    }
}
