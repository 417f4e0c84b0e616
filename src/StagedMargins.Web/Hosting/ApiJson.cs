using System.Globalization;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using StagedMargins.Core;

namespace StagedMargins.Web.Hosting;

/// <summary>How JSON is read and written over HTTP: camelCase, words for enums, times with offset, nothing unknown and nothing twice.</summary>
public static class ApiJson
{
    /// <summary>The options of the API, for what is written outside the framework's own hands.</summary>
    public static readonly JsonSerializerOptions Options = Create();

    /// <summary>Sets the options of the API.</summary>
    public static void Configure(JsonSerializerOptions options)
    {
        options.PropertyNamingPolicy = JsonNamingPolicy.CamelCase;
        options.PropertyNameCaseInsensitive = false;
        options.UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow;
        options.AllowDuplicateProperties = false;
        options.NumberHandling = JsonNumberHandling.Strict;
        // JSON is sent as JSON and never inside a page, so words need no escapes.
        options.Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping;
        options.Converters.Add(new WordJson());
        options.Converters.Add(new TimeWithOffsetJson());
    }

    private static JsonSerializerOptions Create()
    {
        var options = new JsonSerializerOptions(JsonSerializerDefaults.Web);
        Configure(options);
        options.MakeReadOnly(populateMissingResolver: true);
        return options;
    }

    // A time without an offset would be taken for the server's own, which is nobody's clock in the clinic.
    private sealed class TimeWithOffsetJson : JsonConverter<DateTimeOffset>
    {
        private static readonly string[] Forms = ["yyyy-MM-dd'T'HH:mm:ss.FFFFFFFK", "yyyy-MM-dd'T'HH:mmK"];

        public override DateTimeOffset Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options)
        {
            var text = reader.TokenType == JsonTokenType.String ? reader.GetString() : null;
            var hasOffset = text is { Length: > 16 } && (text[^1] is 'Z' or 'z' || text.AsSpan(16).IndexOfAny('+', '-') >= 0);
            return hasOffset && DateTimeOffset.TryParseExact(text, Forms, CultureInfo.InvariantCulture, DateTimeStyles.None, out var time)
                ? time
                : throw new JsonException("A time must be ISO 8601 with its offset, for example 2026-03-03T09:10:00-05:00.");
        }

        public override void Write(Utf8JsonWriter writer, DateTimeOffset value, JsonSerializerOptions options) =>
            writer.WriteStringValue(value);
    }
}
