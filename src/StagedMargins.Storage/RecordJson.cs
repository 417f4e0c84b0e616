using System.Text.Json;
using System.Text.Json.Serialization;
using StagedMargins.Core;
using StagedMargins.Core.ClockFace;

namespace StagedMargins.Storage;

/// <summary>How parts of a record stand as JSON in a column: enums as words, lengths as whole micrometres, arcs by their ends.</summary>
public static class RecordJson
{
    /// <summary>The one way to write and read such columns.</summary>
    public static readonly JsonSerializerOptions Options = new(JsonSerializerDefaults.General)
    {
        PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
        DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
        Converters = { new WordJson(), new PositionJson(), new ArcJson(), new ArcSetJson(), new LengthJson() },
    };

    private sealed class PositionJson : JsonConverter<ClockPosition>
    {
        public override ClockPosition Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
            ClockPosition.Parse(reader.GetString());

        public override void Write(Utf8JsonWriter writer, ClockPosition value, JsonSerializerOptions options) =>
            writer.WriteStringValue(value.ToString());
    }

    private sealed class ArcJson : JsonConverter<ClockArc>
    {
        public override ClockArc Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
            Conversions.ParseArc(reader.GetString()!);

        public override void Write(Utf8JsonWriter writer, ClockArc value, JsonSerializerOptions options) =>
            writer.WriteStringValue(Conversions.Write(value));
    }

    private sealed class ArcSetJson : JsonConverter<ArcSet>
    {
        public override ArcSet Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
            ArcSet.Of(JsonSerializer.Deserialize<ClockArc[]>(ref reader, options)!);

        public override void Write(Utf8JsonWriter writer, ArcSet value, JsonSerializerOptions options) =>
            JsonSerializer.Serialize(writer, value.ToArray(), options);
    }

    private sealed class LengthJson : JsonConverter<Length>
    {
        public override Length Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
            new(reader.GetInt32());

        public override void Write(Utf8JsonWriter writer, Length value, JsonSerializerOptions options) =>
            writer.WriteNumberValue(value.Micrometres);
    }
}
