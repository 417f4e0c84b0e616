using System.Threading.RateLimiting;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Storage;

namespace StagedMargins.Web.Writing;

/// <summary>
/// Lets the writers of a SQLite record in one after another, in the order they came: left to its driver they would poll for the file
/// with long pauses. On PostgreSQL they queue at their case instead.
/// </summary>
public sealed class SqliteWriteLimiter : IDisposable
{
    private readonly ConcurrencyLimiter limiter = new(new ConcurrencyLimiterOptions { PermitLimit = 1, QueueLimit = int.MaxValue, QueueProcessingOrder = QueueProcessingOrder.OldestFirst });

    /// <summary>Waits for one's turn, which ends when what is returned is disposed of; null where nobody waits here.</summary>
    public async ValueTask<IDisposable?> EnterAsync(ClinicContext db, CancellationToken cancel) =>
        db.Database.IsSqlite() ? await limiter.AcquireAsync(1, cancel) : null;

    /// <inheritdoc/>
    public void Dispose() => limiter.Dispose();
}
