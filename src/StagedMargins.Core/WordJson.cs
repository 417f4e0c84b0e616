using System.Text.Json;
using System.Text.Json.Serialization;

namespace StagedMargins.Core;

/// <summary>Enums of the domain as their words in JSON; any other word, and any number, is refused with the words that would do.</summary>
public sealed class WordJson : JsonConverterFactory
{
    /// <inheritdoc/>
    public override bool CanConvert(Type typeToConvert) => typeToConvert.IsEnum;

    /// <inheritdoc/>
    public override JsonConverter CreateConverter(Type typeToConvert, JsonSerializerOptions options) =>
        (JsonConverter)Activator.CreateInstance(typeof(Of<>).MakeGenericType(typeToConvert))!;

    private sealed class Of<T> : JsonConverter<T>
        where T : struct, Enum
    {
        public override T Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
            reader.TokenType == JsonTokenType.String && EnumNames<T>.TryParse(reader.GetString(), out var value)
                ? value
                : throw new JsonException($"One of: {string.Join(", ", EnumNames<T>.All)}.");

        public override void Write(Utf8JsonWriter writer, T value, JsonSerializerOptions options) =>
            writer.WriteStringValue(EnumNames<T>.Of(value));

        public override T ReadAsPropertyName(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
            EnumNames<T>.Parse(reader.GetString()!);

        public override void WriteAsPropertyName(Utf8JsonWriter writer, T value, JsonSerializerOptions options) =>
            writer.WritePropertyName(EnumNames<T>.Of(value));
    }
}
