using System.Text;

namespace StagedMargins.Core.Entries;

/// <summary>Encrypts the words of entries: AES-256-GCM, bound to the place where they stand (docs/ledger.md).</summary>
internal static class WordsCipher
{
    private const byte Version = 1;
    private const string Domain = "StagedMargins.Words";

    internal static Words Encrypt(string text, WordsPlace place, ReadOnlySpan<byte> key) =>
        new(AuthenticatedCipher.Encrypt(Version, Encoding.UTF8.GetBytes(text), key, Binding(place)));

    internal static string Decrypt(Words words, WordsPlace place, ReadOnlySpan<byte> key) =>
        Encoding.UTF8.GetString(AuthenticatedCipher.Decrypt(Version, words.Ciphertext.Span, key, Binding(place)));

    private static LengthPrefixed Binding(WordsPlace place) => new LengthPrefixed()
        .Text(Domain).Number(Version)
        .Id(place.ClinicId).Text(place.SubjectKind).Id(place.SubjectId)
        .Text(place.Kind).Number(place.Form).Text(place.Field);
}
