using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.ChangeTracking;
using StagedMargins.Core;
using StagedMargins.Core.ClockFace;
using StagedMargins.Core.Entries;

namespace StagedMargins.Storage.History;

/// <summary>The fingerprint of one row of the record.</summary>
/// <param name="Table">Its table.</param>
/// <param name="Key">Its key within the case.</param>
/// <param name="Sha256">SHA-256 over its columns and values, hexadecimal; the same whichever database holds the row.</param>
public sealed record RowPrint(string Table, string Key, string Sha256)
{
    /// <summary>The fingerprint of a row.</summary>
    public static RowPrint Of(EntityEntry row)
    {
        var columns = row.Properties.Concat(row.ComplexProperties.SelectMany(complex => complex.Properties))
            .Select(property => $"{property.Metadata.DeclaringType.ShortName()}.{property.Metadata.Name}={Text(property.CurrentValue)}")
            .Order(StringComparer.Ordinal);
        var table = row.Metadata.GetTableName()!;
        return new RowPrint(table, KeyOf(row), Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes($"{table}\n{string.Join('\n', columns)}"))));
    }

    private static string KeyOf(EntityEntry row) => string.Join('/', row.Metadata.FindPrimaryKey()!.Properties
        .Where(property => property.Name is not ("ClinicId" or "CaseId"))
        .Select(property => Text(row.Property(property.Name).CurrentValue)));

    private static string Text(object? value) => value switch
    {
        null => "null",
        string text => JsonSerializer.Serialize(text),
        bool or int or short => Convert.ToString(value, CultureInfo.InvariantCulture)!,
        Guid id => id.ToString("D"),
        DateTime utc => utc.Ticks.ToString(CultureInfo.InvariantCulture),
        DateOnly day => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
        Length length => length.Micrometres.ToString(CultureInfo.InvariantCulture),
        ClockArc arc => EntryJson.Write(arc),
        _ => JsonSerializer.Serialize(value, value.GetType(), EntryJson.Options),
    };
}
