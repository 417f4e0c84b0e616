using System.Security.Cryptography;

namespace StagedMargins.Core.Entries;

/// <summary>AES-256-GCM with a random nonce: one byte of version, 12 of nonce, the ciphertext, 16 of tag.</summary>
internal static class AuthenticatedCipher
{
    /// <summary>Length of a key, in bytes.</summary>
    internal const int KeyBytes = 32;

    private const int VersionBytes = 1;
    private const int NonceBytes = 12;
    private const int TagBytes = 16;

    /// <summary>Encrypts bytes and binds them to others that are not in the result.</summary>
    internal static byte[] Encrypt(byte version, ReadOnlySpan<byte> plain, ReadOnlySpan<byte> key, LengthPrefixed binding)
    {
        var result = new byte[VersionBytes + NonceBytes + plain.Length + TagBytes];
        result[0] = version;
        var nonce = result.AsSpan(VersionBytes, NonceBytes);
        RandomNumberGenerator.Fill(nonce);
        using var cipher = new AesGcm(key, TagBytes);
        cipher.Encrypt(nonce, plain, result.AsSpan(VersionBytes + NonceBytes, plain.Length), result.AsSpan(^TagBytes..), binding.Written);
        return result;
    }

    /// <summary>Decrypts what was encrypted.</summary>
    /// <exception cref="CryptographicException">Of another version, damaged, by another key, or bound to something else.</exception>
    internal static byte[] Decrypt(byte version, ReadOnlySpan<byte> encrypted, ReadOnlySpan<byte> key, LengthPrefixed binding)
    {
        if (encrypted.Length < VersionBytes + NonceBytes + TagBytes || encrypted[0] != version)
        {
            throw new CryptographicException("This is not ciphertext of a version that this program reads.");
        }

        var plain = new byte[encrypted.Length - VersionBytes - NonceBytes - TagBytes];
        using var cipher = new AesGcm(key, TagBytes);
        cipher.Decrypt(encrypted.Slice(VersionBytes, NonceBytes), encrypted[(VersionBytes + NonceBytes)..^TagBytes], encrypted[^TagBytes..], plain, binding.Written);
        return plain;
    }
}
