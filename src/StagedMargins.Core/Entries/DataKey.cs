using System.Security.Cryptography;

namespace StagedMargins.Core.Entries;

/// <summary>
/// The key that encrypts the words about one subject. It is kept wrapped by the service's own key; without it, what was written about
/// the subject in words is forgotten, and every entry, margin and figure stands.
/// </summary>
public sealed class DataKey
{
    private const byte Version = 1;
    private const string Domain = "StagedMargins.DataKey";
    private readonly byte[] key;

    private DataKey(byte[] key)
    {
        this.key = key;
    }

    /// <summary>A new key of 32 random bytes.</summary>
    public static DataKey Create() => new(RandomNumberGenerator.GetBytes(AuthenticatedCipher.KeyBytes));

    /// <summary>The key encrypted by the service's key, to be kept: version, nonce, ciphertext and tag, bound to its subject.</summary>
    /// <param name="clinicId">The clinic of the subject.</param>
    /// <param name="subjectKind">The kind of the subject, in one word.</param>
    /// <param name="subjectId">The subject.</param>
    /// <param name="wrappingKey">The service's key, 32 bytes.</param>
    public byte[] Wrap(Guid clinicId, string subjectKind, Guid subjectId, ReadOnlySpan<byte> wrappingKey) =>
        AuthenticatedCipher.Encrypt(Version, key, wrappingKey, Binding(clinicId, subjectKind, subjectId));

    /// <summary>The key that was wrapped.</summary>
    /// <exception cref="CryptographicException">Damaged, wrapped by another key, or of another subject.</exception>
    public static DataKey Unwrap(ReadOnlySpan<byte> wrapped, Guid clinicId, string subjectKind, Guid subjectId, ReadOnlySpan<byte> wrappingKey) =>
        new(AuthenticatedCipher.Decrypt(Version, wrapped, wrappingKey, Binding(clinicId, subjectKind, subjectId)));

    /// <summary>The words of an entry, encrypted.</summary>
    /// <param name="text">What they say.</param>
    /// <param name="place">Where they stand.</param>
    public byte[] Encrypt(string text, WordsPlace place) => WordsCipher.Encrypt(text, place, key);

    /// <summary>What the words of an entry say.</summary>
    /// <exception cref="CryptographicException">Damaged, or from another place or subject.</exception>
    public string Decrypt(ReadOnlySpan<byte> words, WordsPlace place) => WordsCipher.Decrypt(words, place, key);

    /// <summary>Bytes of a subject, such as a photo, encrypted.</summary>
    /// <param name="bytes">The bytes.</param>
    /// <param name="place">Where they stand.</param>
    public byte[] EncryptBytes(ReadOnlySpan<byte> bytes, WordsPlace place) => WordsCipher.EncryptBytes(bytes, place, key);

    /// <summary>Bytes that were encrypted.</summary>
    /// <exception cref="CryptographicException">Damaged, or from another place or subject.</exception>
    public byte[] DecryptBytes(ReadOnlySpan<byte> bytes, WordsPlace place) => WordsCipher.DecryptBytes(bytes, place, key);

    private static LengthPrefixed Binding(Guid clinicId, string subjectKind, Guid subjectId) =>
        new LengthPrefixed().Text(Domain).Number(Version).Id(clinicId).Text(subjectKind).Id(subjectId);
}
