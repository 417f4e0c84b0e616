using System.Security.Cryptography;

namespace StagedMargins.Web.Backup;

/// <summary>The key of encrypted backups: 32 random bytes, in a file as one line of Base64.</summary>
internal sealed class BackupKey
{
    private const int Bytes = 32;
    private readonly byte[] secret;

    private BackupKey(byte[] secret)
    {
        this.secret = secret;
    }

    /// <summary>Reads a key file.</summary>
    /// <exception cref="BackupException">There is none, or it holds no key.</exception>
    internal static BackupKey Read(string path)
    {
        var secret = new byte[Bytes];
        return !File.Exists(path) ? throw new BackupException($"There is no key file {path}. Create one with: openssl rand -base64 32 > {path}")
            : Convert.TryFromBase64String(File.ReadAllText(path).Trim(), secret, out var length) && length == Bytes ? new BackupKey(secret)
            : throw new BackupException($"The key file {path} must hold 32 bytes as one line of Base64. Create one with: openssl rand -base64 32");
    }

    /// <summary>The cipher of one file. Each file has a key of its own, so that counted nonces never meet the same key twice.</summary>
    /// <param name="header">The file's header with its random salt; a changed header gives another key.</param>
    internal AesGcm CipherFor(ReadOnlySpan<byte> header)
    {
        Span<byte> key = stackalloc byte[Bytes];
        HKDF.DeriveKey(HashAlgorithmName.SHA256, secret, key, header[^Bytes..], header);
        return new AesGcm(key, Chunks.TagBytes);
    }
}
