using System.Data.Common;
using System.Globalization;
using System.Text.Json;

namespace StagedMargins.Web.Backup;

/// <summary>Rows as lines of JSON, the same from either database.</summary>
internal static class RowText
{
    private const string MomentForm = "O";
    private const string DayForm = "yyyy-MM-dd";

    /// <summary>Writes the present row as an array.</summary>
    internal static void Write(Utf8JsonWriter writer, DbDataReader row, IReadOnlyList<BackupColumn> columns)
    {
        writer.WriteStartArray();
        for (var i = 0; i < columns.Count; i++)
        {
            if (row.IsDBNull(i))
            {
                writer.WriteNullValue();
            }
            else
            {
                Write(writer, row, i, columns[i].Kind);
            }
        }

        writer.WriteEndArray();
    }

    /// <summary>Reads a line.</summary>
    /// <returns>One value a column.</returns>
    /// <exception cref="FormatException">It is not a row of these columns.</exception>
    internal static object?[] Read(string line, IReadOnlyList<BackupColumn> columns)
    {
        try
        {
            using var json = JsonDocument.Parse(line);
            return json.RootElement.GetArrayLength() == columns.Count
                ? [.. json.RootElement.EnumerateArray().Select((value, i) => Read(value, columns[i].Kind))]
                : throw new FormatException("A row has another number of values than there are columns.");
        }
        catch (Exception e) when (e is JsonException or InvalidOperationException)
        {
            throw new FormatException("A row is not an array of values.", e);
        }
    }

    private static void Write(Utf8JsonWriter writer, DbDataReader row, int i, ColumnKind kind)
    {
        switch (kind)
        {
            case ColumnKind.WholeNumber:
                writer.WriteNumberValue(row.GetInt64(i));
                break;
            case ColumnKind.Boolean:
                writer.WriteBooleanValue(row.GetBoolean(i));
                break;
            case ColumnKind.Bytes:
                writer.WriteBase64StringValue(row.GetFieldValue<byte[]>(i));
                break;
            default:
                writer.WriteStringValue(Text(row, i, kind));
                break;
        }
    }

    private static string Text(DbDataReader row, int i, ColumnKind kind) => kind switch
    {
        ColumnKind.Uuid => row.GetGuid(i).ToString("D"),
        ColumnKind.Instant => ColumnValues.Instant(row, i).ToString(MomentForm, CultureInfo.InvariantCulture),
        ColumnKind.InstantWithOffset => row.GetFieldValue<DateTimeOffset>(i).ToString(MomentForm, CultureInfo.InvariantCulture),
        ColumnKind.Day => row.GetFieldValue<DateOnly>(i).ToString(DayForm, CultureInfo.InvariantCulture),
        _ => row.GetString(i),
    };

    private static object? Read(JsonElement value, ColumnKind kind) => (value.ValueKind, kind) switch
    {
        (JsonValueKind.Null, _) => null,
        (_, ColumnKind.WholeNumber) => value.GetInt64(),
        (_, ColumnKind.Boolean) => value.GetBoolean(),
        (_, ColumnKind.Bytes) => value.GetBytesFromBase64(),
        (_, ColumnKind.Uuid) => value.GetGuid(),
        (_, ColumnKind.Instant) => DateTime.ParseExact(value.GetString()!, MomentForm, CultureInfo.InvariantCulture, DateTimeStyles.RoundtripKind),
        (_, ColumnKind.InstantWithOffset) => DateTimeOffset.ParseExact(value.GetString()!, MomentForm, CultureInfo.InvariantCulture),
        (_, ColumnKind.Day) => DateOnly.ParseExact(value.GetString()!, DayForm, CultureInfo.InvariantCulture),
        _ => value.GetString(),
    };
}
