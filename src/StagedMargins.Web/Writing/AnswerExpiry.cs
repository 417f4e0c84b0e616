using System.Data.Common;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Storage;
using StagedMargins.Storage.Answers;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Problems;

namespace StagedMargins.Web.Writing;

/// <summary>Forgets what is kept under idempotency keys once nobody will send the same request again.</summary>
/// <param name="scopes">To find the database.</param>
/// <param name="limiter">Where writers of a file wait.</param>
/// <param name="clock">The clock.</param>
/// <param name="log">The log.</param>
public sealed partial class AnswerExpiry(IServiceScopeFactory scopes, SqliteWriteLimiter limiter, TimeProvider clock, ILogger<AnswerExpiry> log) : RepeatedWork(Interval)
{
    private static readonly TimeSpan Interval = TimeSpan.FromHours(6);

    /// <summary>Forgets what is older than <see cref="KeptAnswer.KeptFor"/>.</summary>
    /// <returns>How many keys.</returns>
    public async Task<int> RunAsync(CancellationToken cancel)
    {
        await using var scope = scopes.CreateAsyncScope();
        var db = scope.ServiceProvider.GetRequiredService<ClinicContext>();
        var before = clock.GetUtcNow().UtcDateTime - KeptAnswer.KeptFor;
        using var turn = await limiter.EnterAsync(db, cancel);
        return await db.KeptAnswers.IgnoreQueryFilters().Where(answer => answer.At.Utc < before).ExecuteDeleteAsync(cancel);
    }

    /// <inheritdoc/>
    protected override async Task DoAsync(CancellationToken cancel)
    {
        try
        {
            await RunAsync(cancel);
        }
        catch (Exception e) when (e is DbException || DatabaseFaults.IsPassing(e))
        {
            LogLater(log, e);
        }
    }

    [LoggerMessage(Level = LogLevel.Warning, Message = "Old idempotency keys could not be forgotten now; they will be later.")]
    private static partial void LogLater(ILogger log, Exception exception);
}
