using System.Text.Json;
using System.Text.Json.Serialization;
using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Entries;

/// <summary>
/// A person's words, or a number that names a person, in an entry: stored as ciphertext under the data key of the entry's subject, so
/// that they can be forgotten by forgetting a key while the entry and its seal stand.
/// </summary>
public sealed class Words
{
    private string? written;
    private ReadOnlyMemory<byte> ciphertext;
    private SubjectKey? key;
    private WordsPlace? place;

    private Words(string written) => this.written = written;

    private Words(ReadOnlyMemory<byte> ciphertext) => this.ciphertext = ciphertext;

    /// <summary>What they say; where their key was forgotten, that it was.</summary>
    /// <exception cref="System.Security.Cryptography.CryptographicException">They are damaged, or from another place.</exception>
    public string Text => written ?? (key?.Key is { } known ? known.Decrypt(ciphertext.Span, place!) : Sentences.WordsForgotten);

    /// <summary>Words as they are written now; null for none.</summary>
    public static Words? Of(string? text) => text is null ? null : new Words(text);

    /// <summary>Nothing of what they say.</summary>
    public override string ToString() => "words";

    // Encrypted when the entry is stored, and again where it is stored anew under another key; memory keeps the ciphertext alone.
    internal void EncryptUnder(SubjectKey subject, WordsPlace at)
    {
        if (key != subject || ciphertext.IsEmpty)
        {
            var dataKey = subject.Key ?? throw new InvalidOperationException("Words can't be stored without the data key of their subject.");
            (ciphertext, key, place, written) = (dataKey.Encrypt(Text, at), subject, at, null);
        }
    }

    internal void OpenWith(SubjectKey subject, WordsPlace at) => (key, place) = (subject, at);

    /// <summary>Words as they are stored: base64 of their ciphertext.</summary>
    internal sealed class StoredConverter : JsonConverter<Words>
    {
        public override Words Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) => new(reader.GetBytesFromBase64());

        public override void Write(Utf8JsonWriter writer, Words value, JsonSerializerOptions options) => writer.WriteBase64StringValue(value.ciphertext.Span);
    }

    /// <summary>Words as they read, for an export or whoever may see the case.</summary>
    internal sealed class OpenConverter : JsonConverter<Words>
    {
        public override Words Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) => new(reader.GetString()!);

        public override void Write(Utf8JsonWriter writer, Words value, JsonSerializerOptions options) => writer.WriteStringValue(value.Text);
    }
}

/// <summary>The subject of entries with the key to their words.</summary>
/// <param name="ClinicId">The clinic.</param>
/// <param name="Kind">The kind of the subject, in one word.</param>
/// <param name="Id">Which.</param>
/// <param name="Key">Its data key; null where it was forgotten.</param>
public sealed record SubjectKey(Guid ClinicId, string Kind, Guid Id, DataKey? Key)
{
    /// <summary>Where words of this subject stand.</summary>
    public WordsPlace Place(string kind, int form, string field) => new(ClinicId, Kind, Id, kind, form, field);
}
