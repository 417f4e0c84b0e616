using Microsoft.AspNetCore.DataProtection.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata;
using StagedMargins.Storage.Cases;

namespace StagedMargins.Web.Backup;

/// <summary>The tables of the record as a backup takes them.</summary>
public static class RecordTables
{
    private static readonly Dictionary<Type, ColumnKind> Kinds = new()
    {
        [typeof(Guid)] = ColumnKind.Uuid,
        [typeof(string)] = ColumnKind.Text,
        [typeof(short)] = ColumnKind.WholeNumber,
        [typeof(int)] = ColumnKind.WholeNumber,
        [typeof(long)] = ColumnKind.WholeNumber,
        [typeof(bool)] = ColumnKind.Boolean,
        [typeof(DateTime)] = ColumnKind.Instant,
        [typeof(DateTimeOffset)] = ColumnKind.InstantWithOffset,
        [typeof(DateOnly)] = ColumnKind.Day,
        [typeof(byte[])] = ColumnKind.Bytes,
    };

    /// <summary>
    /// Every table of a model, each after those it refers to. What is computed from cases is made again where a backup is restored. The keys
    /// that protect sign-in tokens stay behind: with them a stolen backup could sign in as anyone.
    /// </summary>
    /// <returns>Tables without rows, their columns in order of name.</returns>
    /// <exception cref="NotSupportedException">A column holds what a backup can't carry.</exception>
    public static IReadOnlyList<BackupTable> Of(IModel model)
    {
        var waiting = model.GetRelationalModel().Tables
            .Where(table => table.EntityTypeMappings.All(mapping => mapping.TypeBase.ClrType != typeof(DataProtectionKey) && !CaseRebuild.ComputedRows.Contains(mapping.TypeBase.ClrType)))
            .OrderBy(table => table.Name, StringComparer.Ordinal)
            .ToList();
        var ordered = new List<BackupTable>();
        while (waiting.Count > 0)
        {
            var next = waiting.First(table => table.ForeignKeyConstraints.All(key => key.PrincipalTable == table || !waiting.Contains(key.PrincipalTable)));
            waiting.Remove(next);
            ordered.Add(new BackupTable(next.Name, [.. next.Columns.OrderBy(column => column.Name, StringComparer.Ordinal).Select(Column)], 0, ""));
        }

        return ordered;
    }

    // What a column holds is what its property means, such as a moment, or else what the property is turned into.
    private static BackupColumn Column(IColumn column)
    {
        if (column.PropertyMappings is not [var mapping, ..])
        {
            return new BackupColumn(column.Name, ColumnKind.Json);
        }

        Type[] candidates = [Plain(mapping.Property.ClrType), Plain(mapping.TypeMapping.Converter?.ProviderClrType ?? mapping.Property.ClrType)];
        return candidates.FirstOrDefault(Kinds.ContainsKey) is { } type
            ? new BackupColumn(column.Name, Kinds[type])
            : throw new NotSupportedException($"A backup can't carry the column {column.Table.Name}.{column.Name}.");
    }

    private static Type Plain(Type type) => Nullable.GetUnderlyingType(type) ?? type;
}
