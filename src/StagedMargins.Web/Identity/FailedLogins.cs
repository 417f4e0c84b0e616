using System.Net;
using System.Net.Sockets;
using System.Threading.RateLimiting;
using StagedMargins.Web.Problems;

namespace StagedMargins.Web.Identity;

/// <summary>
/// Holds back guessing: after ten failures for a person's address, known or not, or two hundred from a network address, further
/// tries wait. Successes are never counted. Tries from one network address are looked at a few at a time, so that a burst can't
/// run ahead of its failures.
/// </summary>
public sealed class FailedLogins : IDisposable
{
    /// <summary>Failures of a person's address in <see cref="Window"/> before tries are held back.</summary>
    public const int MostOfAddress = 10;

    /// <summary>Failures from a network address in <see cref="Window"/> before tries are held back.</summary>
    public const int MostOfNetwork = 200;

    /// <summary>How long a failure counts.</summary>
    public static readonly TimeSpan Window = TimeSpan.FromMinutes(5);

    private const int AtOnce = 4;
    private const int Waiting = 1000;

    private readonly PartitionedRateLimiter<string> addresses = Failures(MostOfAddress);
    private readonly PartitionedRateLimiter<string> networks = Failures(MostOfNetwork);
    private readonly PartitionedRateLimiter<string> turns = PartitionedRateLimiter.Create<string, string>(network =>
        RateLimitPartition.GetConcurrencyLimiter(network, _ => new ConcurrencyLimiterOptions { PermitLimit = AtOnce, QueueLimit = Waiting }));

    /// <summary>Waits for a turn to try; the turn ends when it is disposed of.</summary>
    /// <param name="who">The person's address or whatever else is tried, or null where only the network counts.</param>
    /// <param name="from">The caller's network address.</param>
    /// <param name="cancel">Ends the wait.</param>
    /// <exception cref="TooManyTriesException">There were too many failures.</exception>
    public async Task<IDisposable> EnterAsync(string? who, IPAddress? from, CancellationToken cancel)
    {
        var turn = await turns.AcquireAsync(NetworkOf(from), 1, cancel);
        try
        {
            Require(turn);
            Check(networks, NetworkOf(from));
            if (!string.IsNullOrEmpty(who))
            {
                Check(addresses, KeyOf(who));
            }
        }
        catch
        {
            turn.Dispose();
            throw;
        }

        return turn;
    }

    /// <summary>Notes a failure.</summary>
    public void Note(string? who, IPAddress? from)
    {
        networks.AttemptAcquire(NetworkOf(from)).Dispose();
        if (!string.IsNullOrEmpty(who))
        {
            addresses.AttemptAcquire(KeyOf(who)).Dispose();
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        addresses.Dispose();
        networks.Dispose();
        turns.Dispose();
    }

    private static PartitionedRateLimiter<string> Failures(int most) => PartitionedRateLimiter.Create<string, string>(key =>
        RateLimitPartition.GetFixedWindowLimiter(key, _ => new FixedWindowRateLimiterOptions { PermitLimit = most, Window = Window, QueueLimit = 0 }));

    private static void Check(PartitionedRateLimiter<string> failures, string key)
    {
        // Taking nothing asks whether anything is left.
        using var lease = failures.AttemptAcquire(key, 0);
        Require(lease);
    }

    private static void Require(RateLimitLease lease)
    {
        if (!lease.IsAcquired)
        {
            throw new TooManyTriesException(lease.TryGetMetadata(MetadataName.RetryAfter, out var wait) ? wait : TimeSpan.FromSeconds(1));
        }
    }

    private static string KeyOf(string who) => who.Length > 256 ? "long" : who.ToUpperInvariant();

    // One subscriber holds a whole /64 of IPv6, so that is what counts as one network address.
    private static string NetworkOf(IPAddress? from) => from switch
    {
        null => "unknown",
        { IsIPv4MappedToIPv6: true } => from.MapToIPv4().ToString(),
        { AddressFamily: AddressFamily.InterNetworkV6 } => Convert.ToHexString(from.GetAddressBytes().AsSpan(0, 8)),
        _ => from.ToString(),
    };
}
