using System.Data.Common;
using Microsoft.Data.Sqlite;
using Npgsql;
using NpgsqlTypes;

namespace StagedMargins.Web.Backup;

/// <summary>Where the two databases keep the same value in different ways.</summary>
internal static class ColumnValues
{
    /// <summary>A moment: ticks in SQLite, which has no type for it.</summary>
    internal static DateTime Instant(DbDataReader row, int i) =>
        row is SqliteDataReader ? new DateTime(row.GetInt64(i), DateTimeKind.Utc) : row.GetDateTime(i);

    /// <summary>A parameter that takes the values of a column.</summary>
    internal static DbParameter Parameter(DbCommand command, BackupColumn column, string name)
    {
        var parameter = command.CreateParameter();
        parameter.ParameterName = name;
        if (parameter is NpgsqlParameter postgres)
        {
            postgres.NpgsqlDbType = PostgresType(column.Kind);
        }

        return parameter;
    }

    /// <summary>A value as a parameter takes it.</summary>
    internal static object ForParameter(object? value, DbParameter parameter) => value switch
    {
        null => DBNull.Value,
        DateTime instant when parameter is SqliteParameter => instant.Ticks,
        DateTimeOffset moment when parameter is NpgsqlParameter => moment.ToUniversalTime(),
        _ => value,
    };

    private static NpgsqlDbType PostgresType(ColumnKind kind) => kind switch
    {
        ColumnKind.Uuid => NpgsqlDbType.Uuid,
        ColumnKind.WholeNumber => NpgsqlDbType.Bigint,
        ColumnKind.Boolean => NpgsqlDbType.Boolean,
        ColumnKind.Instant or ColumnKind.InstantWithOffset => NpgsqlDbType.TimestampTz,
        ColumnKind.Day => NpgsqlDbType.Date,
        ColumnKind.Bytes => NpgsqlDbType.Bytea,
        ColumnKind.Json => NpgsqlDbType.Jsonb,
        _ => NpgsqlDbType.Text,
    };
}
