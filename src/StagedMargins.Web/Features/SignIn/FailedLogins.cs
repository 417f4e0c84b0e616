using System.Threading.RateLimiting;

namespace StagedMargins.Web.Features.SignIn;

/// <summary>
/// Holds back guessing: after ten failures for an address, known or not, further tries wait. Successes are never counted.
/// </summary>
public sealed class FailedLogins : IDisposable
{
    /// <summary>Failures before tries are held back.</summary>
    public const int Most = 10;

    private readonly PartitionedRateLimiter<string> failures = PartitionedRateLimiter.Create<string, string>(email =>
        RateLimitPartition.GetFixedWindowLimiter(email.ToUpperInvariant(), _ => new FixedWindowRateLimiterOptions
        {
            PermitLimit = Most,
            Window = TimeSpan.FromMinutes(5),
            QueueLimit = 0,
        }));

    /// <summary>True where an address has failed too often.</summary>
    public bool TooMany(string email) => failures.GetStatistics(email) is { CurrentAvailablePermits: 0 };

    /// <summary>Notes a failure.</summary>
    public void Note(string email) => failures.AttemptAcquire(email).Dispose();

    /// <inheritdoc/>
    public void Dispose() => failures.Dispose();
}
