using Microsoft.Extensions.Caching.Memory;

namespace StagedMargins.Storage.Cases;

/// <summary>
/// Cases by their entries, kept in memory so that only what was written since is read. Never believed: each read compares the seal of the
/// last entry. Bounded in bytes; each is let go after a minute, as the data keys are, so that what another copy of the service forgot is
/// forgotten here, too.
/// </summary>
public sealed class CaseMemory : IDisposable
{
    /// <summary>The most that is kept, bytes.</summary>
    public const long MostBytes = 64L << 20;

    private static readonly TimeSpan KeptFor = TimeSpan.FromMinutes(1);
    private readonly MemoryCache kept = new(new MemoryCacheOptions { SizeLimit = MostBytes });

    /// <inheritdoc/>
    public void Dispose() => kept.Dispose();

    /// <summary>A case; null where it is not kept.</summary>
    internal KnownCase? Find(Guid clinicId, Guid caseId) => kept.Get<KnownCase>((clinicId, caseId));

    /// <summary>Keeps a case as it was read, or written and committed.</summary>
    public void Keep(KnownCase known) =>
        kept.Set((known.ClinicId, known.CaseId), known, new MemoryCacheEntryOptions { AbsoluteExpirationRelativeToNow = KeptFor, Size = known.Bytes });
}
