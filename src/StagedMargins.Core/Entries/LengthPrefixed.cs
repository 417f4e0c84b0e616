using System.Buffers;
using System.Buffers.Binary;
using System.Text;

namespace StagedMargins.Core.Entries;

/// <summary>
/// Values one after the other, each with its length before it, so that no two sequences of values have the same bytes. Numbers and
/// lengths are big-endian; a length of 0xFFFFFFFF stands for a value that is absent.
/// </summary>
public sealed class LengthPrefixed
{
    private const uint AbsentLength = uint.MaxValue;
    private readonly ArrayBufferWriter<byte> bytes = new();

    /// <summary>Everything written so far.</summary>
    public ReadOnlySpan<byte> Written => bytes.WrittenSpan;

    /// <summary>Bytes as they are.</summary>
    public LengthPrefixed Bytes(ReadOnlySpan<byte> value)
    {
        Length((uint)value.Length);
        bytes.Write(value);
        return this;
    }

    /// <summary>A value that is not there.</summary>
    public LengthPrefixed Absent()
    {
        Length(AbsentLength);
        return this;
    }

    /// <summary>A text in UTF-8, or its absence.</summary>
    public LengthPrefixed Text(string? value) => value is null ? Absent() : Bytes(Encoding.UTF8.GetBytes(value));

    /// <summary>An identifier in the byte order of RFC 9562, as it is read aloud.</summary>
    public LengthPrefixed Id(Guid? value) => value is { } id ? Bytes(id.ToByteArray(bigEndian: true)) : Absent();

    /// <summary>A whole number in eight bytes, two's complement.</summary>
    public LengthPrefixed Number(long? value)
    {
        if (value is not { } number)
        {
            return Absent();
        }

        Span<byte> eight = stackalloc byte[sizeof(long)];
        BinaryPrimitives.WriteInt64BigEndian(eight, number);
        return Bytes(eight);
    }

    private void Length(uint length)
    {
        BinaryPrimitives.WriteUInt32BigEndian(bytes.GetSpan(sizeof(uint)), length);
        bytes.Advance(sizeof(uint));
    }
}
