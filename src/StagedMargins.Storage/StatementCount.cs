using System.Data.Common;
using System.Diagnostics.Metrics;
using Microsoft.EntityFrameworkCore.Diagnostics;

namespace StagedMargins.Storage;

/// <summary>Counts the statements that are sent to the database, as the metric <c>statements</c> of the meter <c>StagedMargins.Storage</c>.</summary>
public sealed class StatementCount : DbCommandInterceptor
{
    /// <summary>The name of the meter.</summary>
    public const string MeterName = "StagedMargins.Storage";

    private static readonly Meter Meter = new(MeterName);
    private static readonly Counter<long> Sent = Meter.CreateCounter<long>("statements", description: "Statements sent to the database, apart from those that begin and end a transaction.");

    private StatementCount()
    {
    }

    /// <summary>Counts the commands of a context.</summary>
    public static StatementCount Interceptor { get; } = new();

    /// <inheritdoc/>
    public override ValueTask<InterceptionResult<DbDataReader>> ReaderExecutingAsync(
        DbCommand command, CommandEventData eventData, InterceptionResult<DbDataReader> result, CancellationToken cancellationToken = default)
    {
        Add(1);
        return ValueTask.FromResult(result);
    }

    /// <inheritdoc/>
    public override ValueTask<InterceptionResult<int>> NonQueryExecutingAsync(
        DbCommand command, CommandEventData eventData, InterceptionResult<int> result, CancellationToken cancellationToken = default)
    {
        Add(1);
        return ValueTask.FromResult(result);
    }

    internal static void Add(int count) => Sent.Add(count);
}
