using System.Text.Json;
using System.Text.Json.Serialization;

namespace StagedMargins.Core.Entries;

/// <summary>
/// A person's words, or a number that names a person, as an entry holds them: never in the clear, so that they can be forgotten by
/// forgetting a key while the entry and its seal stand. Only <see cref="WordsCipher"/> makes and opens them.
/// </summary>
/// <param name="Ciphertext">Version, nonce, ciphertext and tag; see <see cref="WordsCipher"/>.</param>
[JsonConverter(typeof(WordsConverter))]
public sealed record Words(ReadOnlyMemory<byte> Ciphertext)
{
    /// <summary>Equal where the bytes are.</summary>
    public bool Equals(Words? other) => other is not null && Ciphertext.Span.SequenceEqual(other.Ciphertext.Span);

    /// <inheritdoc/>
    public override int GetHashCode()
    {
        var hash = default(HashCode);
        hash.AddBytes(Ciphertext.Span);
        return hash.ToHashCode();
    }

    /// <summary>Nothing of what they say.</summary>
    public override string ToString() => $"words, {Ciphertext.Length} bytes encrypted";
}

/// <summary>Where words stand: what ties their ciphertext to one field of one subject, so that it can't be moved to another.</summary>
/// <param name="ClinicId">The clinic.</param>
/// <param name="SubjectKind">The kind of the subject whose data key encrypts them, in one word.</param>
/// <param name="SubjectId">Which subject.</param>
/// <param name="Kind">The kind of entry.</param>
/// <param name="Form">The version of its form.</param>
/// <param name="Field">The field, by its name in the body, for example <c>note</c>.</param>
public sealed record WordsPlace(Guid ClinicId, string SubjectKind, Guid SubjectId, string Kind, int Form, string Field);

/// <summary>Words in the body of an entry: base64.</summary>
internal sealed class WordsConverter : JsonConverter<Words>
{
    public override Words Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) => new(reader.GetBytesFromBase64());

    public override void Write(Utf8JsonWriter writer, Words value, JsonSerializerOptions options) => writer.WriteBase64StringValue(value.Ciphertext.Span);
}
