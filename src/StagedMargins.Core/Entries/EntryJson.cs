using System.Globalization;
using System.Text.Json;
using System.Text.Json.Serialization;
using StagedMargins.Core.ClockFace;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Entries;

/// <summary>
/// How what was decided stands as JSON: enums as words, lengths as whole micrometres, arcs by their ends, times with their offset.
/// </summary>
public static class EntryJson
{
    /// <summary>How parts without words are written and read.</summary>
    public static readonly JsonSerializerOptions Options = Make(new Words.StoredConverter());

    private static readonly JsonSerializerOptions Open = Make(new Words.OpenConverter());

    /// <summary>The body of an entry of a case, with its words encrypted.</summary>
    /// <param name="entry">The entry.</param>
    /// <param name="subject">Its subject with its data key.</param>
    public static byte[] Write(CaseEvent entry, SubjectKey subject) => Write(entry.EntryKind, entry, subject);

    /// <summary>What the body of an entry of a case says.</summary>
    /// <param name="kind">Its kind, of the form that this version writes.</param>
    /// <param name="body">The body.</param>
    /// <param name="subject">Its subject with its data key.</param>
    /// <exception cref="JsonException">It is not of that form.</exception>
    public static CaseEvent Read(CaseEntryKind kind, ReadOnlySpan<byte> body, SubjectKey subject) => (CaseEvent)Read((EntryKind)kind, body, subject);

    internal static byte[] Write(EntryKind kind, object entry, SubjectKey subject)
    {
        foreach (var (field, words) in WordsFields.In(entry))
        {
            words.EncryptUnder(subject, subject.Place(kind.Word, kind.Form, field));
        }

        return JsonSerializer.SerializeToUtf8Bytes(entry, kind.Event, Options);
    }

    internal static object Read(EntryKind kind, ReadOnlySpan<byte> body, SubjectKey subject)
    {
        var entry = JsonSerializer.Deserialize(body, kind.Event, Options) ?? throw new JsonException("The body of an entry is empty.");
        foreach (var (field, words) in WordsFields.In(entry))
        {
            words.OpenWith(subject, subject.Place(kind.Word, kind.Form, field));
        }

        return entry;
    }

    /// <summary>The body of an entry with its words in the clear, for an export or whoever may see the case.</summary>
    public static byte[] WriteOpen(CaseEvent entry) => JsonSerializer.SerializeToUtf8Bytes(entry, entry.EntryKind.Event, Open);

    /// <summary>What a body with its words in the clear says.</summary>
    /// <exception cref="JsonException">It is not of that form.</exception>
    public static CaseEvent ReadOpen(CaseEntryKind kind, ReadOnlySpan<byte> body) =>
        (CaseEvent?)JsonSerializer.Deserialize(body, kind.Event, Open) ?? throw new JsonException("The body of an entry is empty.");

    /// <summary>The body of an entry that holds no words about a patient.</summary>
    public static byte[] WritePlain(EntryKind kind, object entry) => JsonSerializer.SerializeToUtf8Bytes(entry, kind.Event, Options);

    /// <summary>What a body that holds no words about a patient says.</summary>
    /// <param name="subject">The kind of its subject.</param>
    /// <param name="word">The word of its kind.</param>
    /// <param name="form">Its form.</param>
    /// <param name="body">The body.</param>
    /// <exception cref="JsonException">It is not of that form, or of one that this version does not know.</exception>
    public static object ReadPlain(string subject, string word, int form, ReadOnlySpan<byte> body) =>
        JsonSerializer.Deserialize(body, EntryKinds.Known(subject, word, form).Event, Options) ?? throw new JsonException("The body of an entry is empty.");

    /// <summary>An arc as text, <c>07:30-09:00</c>.</summary>
    public static string Write(ClockArc arc) => $"{arc.From}-{arc.To}";

    /// <summary>An arc from its text.</summary>
    public static ClockArc ParseArc(string text) => ClockArc.Parse(text[..5], text[6..]);

    private static JsonSerializerOptions Make(JsonConverter words) => new(JsonSerializerDefaults.General)
    {
        PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
        UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
        RespectNullableAnnotations = true,
        RespectRequiredConstructorParameters = true,
        AllowDuplicateProperties = false,
        Converters = { new WordJson(), new PositionJson(), new ArcJson(), new ArcSetJson(), new LengthJson(), new TimeJson(), new OverlapJson(), words },
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
            ParseArc(reader.GetString()!);

        public override void Write(Utf8JsonWriter writer, ClockArc value, JsonSerializerOptions options) =>
            writer.WriteStringValue(EntryJson.Write(value));
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

    // To the microsecond, which is what a time has.
    private sealed class TimeJson : JsonConverter<ClinicalTime>
    {
        private const string Form = "yyyy-MM-dd'T'HH:mm:ss.FFFFFFzzz";

        public override ClinicalTime Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
            ClinicalTime.From(DateTimeOffset.ParseExact(reader.GetString()!, Form, CultureInfo.InvariantCulture));

        public override void Write(Utf8JsonWriter writer, ClinicalTime value, JsonSerializerOptions options) =>
            writer.WriteStringValue(value.ToDateTimeOffset().ToString(Form, CultureInfo.InvariantCulture));
    }

    private sealed class OverlapJson : JsonConverter<Overlap>
    {
        public override Overlap Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) => new(reader.GetInt32());

        public override void Write(Utf8JsonWriter writer, Overlap value, JsonSerializerOptions options) => writer.WriteNumberValue(value.Minutes);
    }
}
