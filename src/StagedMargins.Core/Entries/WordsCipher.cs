using System.Text;

namespace StagedMargins.Core.Entries;

/// <summary>Encrypts the words of entries: AES-256-GCM, bound to the place where they stand (docs/ledger.md).</summary>
internal static class WordsCipher
{
    private const byte Version = 1;
    private const string Domain = "StagedMargins.Words";

    internal static byte[] Encrypt(string text, WordsPlace place, ReadOnlySpan<byte> key) =>
        EncryptBytes(Encoding.UTF8.GetBytes(text), place, key);

    internal static string Decrypt(ReadOnlySpan<byte> words, WordsPlace place, ReadOnlySpan<byte> key) =>
        Encoding.UTF8.GetString(DecryptBytes(words, place, key));

    internal static byte[] EncryptBytes(ReadOnlySpan<byte> bytes, WordsPlace place, ReadOnlySpan<byte> key) =>
        AuthenticatedCipher.Encrypt(Version, bytes, key, Binding(place));

    internal static byte[] DecryptBytes(ReadOnlySpan<byte> bytes, WordsPlace place, ReadOnlySpan<byte> key) =>
        AuthenticatedCipher.Decrypt(Version, bytes, key, Binding(place));

    private static LengthPrefixed Binding(WordsPlace place) => new LengthPrefixed()
        .Text(Domain).Number(Version)
        .Id(place.ClinicId).Text(place.SubjectKind).Id(place.SubjectId)
        .Text(place.Kind).Number(place.Form).Text(place.Field);
}
