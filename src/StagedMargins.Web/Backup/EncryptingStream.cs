using System.Security.Cryptography;

namespace StagedMargins.Web.Backup;

/// <summary>Encrypts what is written into a file, chunk by chunk; see <see cref="Chunks"/>.</summary>
internal sealed class EncryptingStream : Stream
{
    private readonly Stream file;
    private readonly AesGcm cipher;
    private readonly byte[] plain = new byte[Chunks.PlainBytes];
    private readonly byte[] sealedChunk = new byte[Chunks.SealedBytes];
    private int filled;
    private long index;

    /// <summary>Writes the header.</summary>
    /// <param name="file">The file, which stays open.</param>
    /// <param name="key">The key.</param>
    internal EncryptingStream(Stream file, BackupKey key)
    {
        var header = new byte[Chunks.HeaderBytes];
        Chunks.Name.CopyTo(header);
        RandomNumberGenerator.Fill(header.AsSpan(Chunks.Name.Length));
        file.Write(header);
        (this.file, cipher) = (file, key.CipherFor(header));
    }

    public override bool CanRead => false;

    public override bool CanSeek => false;

    public override bool CanWrite => true;

    public override long Length => throw new NotSupportedException();

    public override long Position
    {
        get => throw new NotSupportedException();
        set => throw new NotSupportedException();
    }

    public override void Write(byte[] buffer, int offset, int count) => Write(buffer.AsSpan(offset, count));

    public override void Write(ReadOnlySpan<byte> buffer)
    {
        while (buffer.Length > 0)
        {
            if (filled == plain.Length)
            {
                WriteChunk(isLast: false);
            }

            var taken = Math.Min(buffer.Length, plain.Length - filled);
            buffer[..taken].CopyTo(plain.AsSpan(filled));
            filled += taken;
            buffer = buffer[taken..];
        }
    }

    /// <summary>Writes the last chunk. A file without it is refused, so nothing that was broken off passes for whole.</summary>
    internal void Finish() => WriteChunk(isLast: true);

    public override void Flush()
    {
        // A chunk is written when it is full or the last.
    }

    public override int Read(byte[] buffer, int offset, int count) => throw new NotSupportedException();

    public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

    public override void SetLength(long value) => throw new NotSupportedException();

    protected override void Dispose(bool disposing)
    {
        if (disposing)
        {
            cipher.Dispose();
            CryptographicOperations.ZeroMemory(plain);
        }

        base.Dispose(disposing);
    }

    private void WriteChunk(bool isLast)
    {
        Span<byte> nonce = stackalloc byte[Chunks.NonceBytes];
        Chunks.Nonce(nonce, index++, isLast);
        cipher.Encrypt(nonce, plain.AsSpan(0, filled), sealedChunk.AsSpan(0, filled), sealedChunk.AsSpan(filled, Chunks.TagBytes));
        file.Write(sealedChunk.AsSpan(0, filled + Chunks.TagBytes));
        filled = 0;
    }
}
