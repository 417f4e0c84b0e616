using System.Text.Json;
using System.Text.Json.Serialization;

namespace StagedMargins.Web.Backup;

/// <summary>What a column holds, whichever database it stands in.</summary>
public enum ColumnKind
{
    /// <summary>A UUID.</summary>
    Uuid,

    /// <summary>A text.</summary>
    Text,

    /// <summary>A whole number of at most 64 bits.</summary>
    WholeNumber,

    /// <summary>True or false.</summary>
    Boolean,

    /// <summary>A moment, UTC.</summary>
    Instant,

    /// <summary>A moment with its offset from UTC, which one of the databases keeps as UTC.</summary>
    InstantWithOffset,

    /// <summary>A day of the calendar.</summary>
    Day,

    /// <summary>Bytes.</summary>
    Bytes,

    /// <summary>A JSON document.</summary>
    Json,
}

/// <summary>A column as it stands in a backup.</summary>
/// <param name="Name">Its name in both databases.</param>
/// <param name="Kind">What it holds.</param>
public sealed record BackupColumn(string Name, ColumnKind Kind);

/// <summary>A table as it stands in a backup: one file of JSON lines, each an array with one value a column.</summary>
/// <param name="Name">Its name in both databases.</param>
/// <param name="Columns">Its columns, in the order of the values.</param>
/// <param name="Rows">How many rows there are.</param>
/// <param name="Sha256">SHA-256 of the file, hexadecimal.</param>
public sealed record BackupTable(string Name, IReadOnlyList<BackupColumn> Columns, long Rows, string Sha256)
{
    /// <summary>The name of its file within the backup.</summary>
    [JsonIgnore]
    public string File => $"{Name}.jsonl";
}

/// <summary>What a backup holds.</summary>
/// <param name="Format">The version of the format; see <see cref="PresentFormat"/>.</param>
/// <param name="MadeAt">When it was begun.</param>
/// <param name="Database">Which database it was taken from.</param>
/// <param name="Schema">The changes of the tables that the record had seen, oldest first, by their names in both databases.</param>
/// <param name="HistoryKeys">The names, and only the names, of the keys that sealed its entries.</param>
/// <param name="Heads">The end of each stream of the ledger when it was taken.</param>
/// <param name="Tables">The tables, each after those it refers to.</param>
public sealed record BackupManifest(
    int Format,
    DateTimeOffset MadeAt,
    string Database,
    IReadOnlyList<string> Schema,
    IReadOnlyList<string> HistoryKeys,
    IReadOnlyList<string> Heads,
    IReadOnlyList<BackupTable> Tables)
{
    /// <summary>The format that is written.</summary>
    public const int PresentFormat = 2;

    /// <summary>The name of its file within the backup.</summary>
    public const string File = "manifest.json";

    /// <summary>How it is written and read.</summary>
    public static readonly JsonSerializerOptions Json = new(JsonSerializerDefaults.Web)
    {
        WriteIndented = true,
        RespectNullableAnnotations = true,
        RespectRequiredConstructorParameters = true,
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.CamelCase, allowIntegerValues: false) },
    };
}
