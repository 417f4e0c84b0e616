using System.Collections.Concurrent;
using System.Data.Common;
using System.Globalization;
using System.Text;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Storage;

namespace StagedMargins.Storage;

/// <summary>
/// Plain statements that are sent together, in one round trip, within the transaction at hand, where a mapper would send them one by
/// one. Values are always parameters.
/// </summary>
/// <param name="db">The record.</param>
internal sealed class Statements(ClinicContext db)
{
    private static readonly ConcurrentDictionary<string, string> Rendered = [];

    private readonly List<FormattableString> statements = [];

    /// <summary>Adds a statement; each value in braces becomes a parameter.</summary>
    internal void Add(FormattableString statement) => statements.Add(statement);

    /// <summary>Sends them and reads their results: one for each statement that gives rows, in order.</summary>
    internal async Task<T> ReadAsync<T>(Func<DbDataReader, Task<T>> read, CancellationToken cancel)
    {
        // Closed again at once where no transaction keeps it: a request that goes on for hours must not hold a connection.
        await db.Database.OpenConnectionAsync(cancel);
        try
        {
            return await SendAsync(
                async batch =>
                {
                    await using var rows = await batch.ExecuteReaderAsync(cancel);
                    return await read(rows);
                },
                async command =>
                {
                    await using var rows = await command.ExecuteReaderAsync(cancel);
                    return await read(rows);
                });
        }
        finally
        {
            await db.Database.CloseConnectionAsync();
        }
    }

    /// <summary>Sends them for what they change.</summary>
    internal async Task ExecuteAsync(CancellationToken cancel)
    {
        if (statements.Count > 0)
        {
            await db.Database.OpenConnectionAsync(cancel);
            try
            {
                await SendAsync(batch => batch.ExecuteNonQueryAsync(cancel), command => command.ExecuteNonQueryAsync(cancel));
            }
            finally
            {
                await db.Database.CloseConnectionAsync();
            }
        }
    }

    private async Task<T> SendAsync<T>(Func<DbBatch, Task<T>> sendBatch, Func<DbCommand, Task<T>> sendCommand)
    {
        StatementCount.Add(statements.Count);
        var connection = db.Database.GetDbConnection();
        if (!connection.CanCreateBatch)
        {
            await using var command = connection.CreateCommand();
            command.Transaction = db.Database.CurrentTransaction?.GetDbTransaction();
            command.CommandText = string.Join(";\n", statements.Select((statement, i) => Fill(command, statement, i)));
            return await sendCommand(command);
        }

        await using var batch = connection.CreateBatch();
        batch.Transaction = db.Database.CurrentTransaction?.GetDbTransaction();
        batch.Timeout = db.Database.GetCommandTimeout() ?? batch.Timeout;
        foreach (var statement in statements)
        {
            var command = batch.CreateBatchCommand();
            command.CommandText = Rendered.GetOrAdd(statement.Format, format => Render(format, statement.ArgumentCount, i => $"${i + 1}"));
            foreach (var value in statement.GetArguments())
            {
                var parameter = command.CreateParameter();
                parameter.Value = value ?? DBNull.Value;
                command.Parameters.Add(parameter);
            }

            batch.BatchCommands.Add(command);
        }

        return await sendBatch(batch);
    }

    // One command has one set of names for the parameters of all its statements.
    private string Fill(DbCommand command, FormattableString statement, int place)
    {
        for (var i = 0; i < statement.ArgumentCount; i++)
        {
            var parameter = command.CreateParameter();
            parameter.ParameterName = NameOf(place, i);
            parameter.Value = Stored(statement.GetArgument(i)) ?? DBNull.Value;
            command.Parameters.Add(parameter);
        }

        return Render(statement.Format, statement.ArgumentCount, i => NameOf(place, i));
    }

    private object? Stored(object? value) => value is DateTime utc && db.IsSqlite ? utc.Ticks : value;

    private static string NameOf(int statement, int argument) => string.Create(CultureInfo.InvariantCulture, $"@s{statement}_{argument}");

    private static string Render(string format, int count, Func<int, string> name)
    {
        var text = new StringBuilder(format);
        for (var i = count - 1; i >= 0; i--)
        {
            text.Replace(string.Create(CultureInfo.InvariantCulture, $"{{{i}}}"), name(i));
        }

        return text.ToString();
    }
}
