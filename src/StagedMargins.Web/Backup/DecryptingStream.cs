using System.Security.Cryptography;

namespace StagedMargins.Web.Backup;

/// <summary>Reads an encrypted backup anywhere in it; see <see cref="Chunks"/>. Nothing is given out whose chunk is not as it was written.</summary>
internal sealed class DecryptingStream : Stream
{
    private readonly Stream file;
    private readonly AesGcm cipher;
    private readonly byte[] plain = new byte[Chunks.PlainBytes];
    private readonly byte[] sealedChunk = new byte[Chunks.SealedBytes];
    private readonly long chunkCount;
    private long present = -1;
    private int filled;

    /// <summary>Reads the header.</summary>
    /// <param name="file">The file, which stays open.</param>
    /// <param name="key">The key.</param>
    /// <exception cref="BackupException">The file is too short.</exception>
    internal DecryptingStream(Stream file, BackupKey key)
    {
        var (header, bytes) = (new byte[Chunks.HeaderBytes], file.Length - Chunks.HeaderBytes);
        chunkCount = (bytes + Chunks.SealedBytes - 1) / Chunks.SealedBytes;
        Length = bytes - (chunkCount * Chunks.TagBytes);
        if (chunkCount == 0 || bytes - ((chunkCount - 1) * Chunks.SealedBytes) < Chunks.TagBytes)
        {
            throw Refused();
        }

        file.Position = 0;
        file.ReadExactly(header);
        (this.file, cipher) = (file, key.CipherFor(header));
    }

    public override bool CanRead => true;

    public override bool CanSeek => true;

    public override bool CanWrite => false;

    public override long Length { get; }

    public override long Position { get; set; }

    /// <summary>Reads all of it, so that whatever is not as it was written is found.</summary>
    /// <exception cref="BackupException">Something is not.</exception>
    internal void CheckAll()
    {
        for (var index = 0L; index < chunkCount; index++)
        {
            Load(index);
        }
    }

    public override int Read(byte[] buffer, int offset, int count) => Read(buffer.AsSpan(offset, count));

    public override int Read(Span<byte> buffer)
    {
        if (Position >= Length || buffer.Length == 0)
        {
            return 0;
        }

        Load(Position / Chunks.PlainBytes);
        var start = (int)(Position % Chunks.PlainBytes);
        var taken = Math.Min(buffer.Length, filled - start);
        plain.AsSpan(start, taken).CopyTo(buffer);
        Position += taken;
        return taken;
    }

    public override long Seek(long offset, SeekOrigin origin) => Position = offset + origin switch
    {
        SeekOrigin.Begin => 0,
        SeekOrigin.Current => Position,
        _ => Length,
    };

    public override void Flush()
    {
        // Nothing is written.
    }

    public override void SetLength(long value) => throw new NotSupportedException();

    public override void Write(byte[] buffer, int offset, int count) => throw new NotSupportedException();

    protected override void Dispose(bool disposing)
    {
        if (disposing)
        {
            cipher.Dispose();
            CryptographicOperations.ZeroMemory(plain);
        }

        base.Dispose(disposing);
    }

    private static BackupException Refused() =>
        new("This file can't be opened with this key: the key is wrong, or the file was changed or cut off. Nothing was written.");

    private void Load(long index)
    {
        if (index == present)
        {
            return;
        }

        present = -1;
        file.Position = Chunks.HeaderBytes + (index * Chunks.SealedBytes);
        filled = file.ReadAtLeast(sealedChunk, Chunks.SealedBytes, throwOnEndOfStream: false) - Chunks.TagBytes;
        Span<byte> nonce = stackalloc byte[Chunks.NonceBytes];
        Chunks.Nonce(nonce, index, isLast: index == chunkCount - 1);
        try
        {
            cipher.Decrypt(nonce, sealedChunk.AsSpan(0, filled), sealedChunk.AsSpan(filled, Chunks.TagBytes), plain.AsSpan(0, filled));
        }
        catch (AuthenticationTagMismatchException)
        {
            throw Refused();
        }

        present = index;
    }
}
