using System.Collections.Concurrent;
using System.Runtime.CompilerServices;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata;

namespace StagedMargins.Storage;

/// <summary>Statements that write rows of a table, by the columns and conversions of the model.</summary>
internal sealed class TableSql
{
    private static readonly ConcurrentDictionary<IEntityType, TableSql> Known = [];

    private readonly IReadOnlyList<Column> columns;
    private readonly string insert;
    private readonly string upsert;
    private readonly string update;

    private TableSql(IEntityType type)
    {
        var table = StoreObjectIdentifier.Create(type, StoreObjectType.Table)!.Value;
        columns = [.. type.GetFlattenedProperties().Select(property => new Column(property, property.GetColumnName(table)!))];
        var keys = columns.Where(column => column.Property.IsPrimaryKey()).ToList();
        insert = $"INSERT INTO {table.Name} ({string.Join(", ", columns.Select(column => column.Name))}) VALUES ({string.Join(", ", columns.Select((_, i) => $"{{{i}}}"))})";
        upsert = $"{insert} ON CONFLICT ({string.Join(", ", keys.Select(key => key.Name))}) DO UPDATE SET {string.Join(", ", columns.Except(keys).Select(column => $"{column.Name} = excluded.{column.Name}"))}";
        update = $"UPDATE {table.Name} SET {Join(", ", columns.Except(keys))} WHERE {Join(" AND ", keys)}";

        string Join(string between, IEnumerable<Column> some) => string.Join(between, some.Select(column => $"{column.Name} = {{{columns.ToList().IndexOf(column)}}}"));
    }

    /// <summary>The statements for rows of a type.</summary>
    internal static TableSql Of<T>(ClinicContext db) => Known.GetOrAdd(db.Model.FindEntityType(typeof(T))!, type => new TableSql(type));

    /// <summary>Writes a new row.</summary>
    internal FormattableString Insert(object row) => FormattableStringFactory.Create(insert, ValuesOf(row));

    /// <summary>Writes a row, over the one of its key where there is one.</summary>
    internal FormattableString Upsert(object row) => FormattableStringFactory.Create(upsert, ValuesOf(row));

    /// <summary>Writes a row over the one of its key.</summary>
    internal FormattableString Update(object row) => FormattableStringFactory.Create(update, ValuesOf(row));

    private object?[] ValuesOf(object row) => [.. columns.Select(column => column.ValueIn(row))];

    private sealed record Column(IProperty Property, string Name)
    {
        private readonly Func<object?, object?> convert = Property.GetTypeMapping().Converter?.ConvertToProvider ?? (value => value);

        internal object? ValueIn(object row) => convert(Property.GetGetter().GetClrValueUsingContainingEntity(row));
    }
}
