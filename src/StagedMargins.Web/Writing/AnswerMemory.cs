using Microsoft.Extensions.Caching.Memory;

namespace StagedMargins.Web.Writing;

/// <summary>
/// Answers that were worked out, kept in memory by what they follow from: the seal of the last entry of the case, the last entry about
/// the clinic, and what was asked. What changed since has another key, so nothing kept is ever wrong. Bounded in bytes; each is let go
/// after a minute, as the cases are.
/// </summary>
public sealed class AnswerMemory : IDisposable
{
    /// <summary>The most that is kept, bytes.</summary>
    public const long MostBytes = 32L << 20;

    // What an answer takes in memory beside its bytes.
    private const int BytesOfAnswer = 300;
    private static readonly TimeSpan KeptFor = TimeSpan.FromMinutes(1);
    private readonly MemoryCache kept = new(new MemoryCacheOptions { SizeLimit = MostBytes });

    /// <summary>An answer as it is kept, or as it is worked out now.</summary>
    /// <param name="key">What it follows from.</param>
    /// <param name="make">Works it out.</param>
    public byte[] Find(AnswerKey key, Func<byte[]> make)
    {
        if (kept.Get<byte[]>(key) is { } known)
        {
            return known;
        }

        var made = make();
        return kept.Set(key, made, new MemoryCacheEntryOptions { AbsoluteExpirationRelativeToNow = KeptFor, Size = BytesOfAnswer + made.Length });
    }

    /// <inheritdoc/>
    public void Dispose() => kept.Dispose();
}

/// <summary>What an answer about a case follows from.</summary>
/// <param name="CaseId">The case.</param>
/// <param name="Hash">The seal of its last entry, hexadecimal.</param>
/// <param name="AdministeredAt">The number of the last entry about the clinic or its people.</param>
/// <param name="Asked">What was asked of it.</param>
public sealed record AnswerKey(Guid CaseId, string Hash, long AdministeredAt, string Asked);
