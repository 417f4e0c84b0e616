using System.Collections.Concurrent;

namespace StagedMargins.Web.Writing;

/// <summary>
/// Lets the writers of this process go to the head of one clinic's record two at a time, in the order they came: one that has its lock in
/// the database, and the next, who waits there, so that they do not crowd at it. It keeps nobody out: the lock does. Whoever has the lock
/// already must not wait here.
/// </summary>
public sealed class HeadLimiter
{
    private const int AtOnce = 2;

    private readonly ConcurrentDictionary<Guid, SemaphoreSlim> clinics = [];

    /// <summary>Waits for one's turn, which ends when what is returned is disposed of.</summary>
    public async ValueTask<IDisposable> EnterAsync(Guid clinicId, CancellationToken cancel)
    {
        var turn = clinics.GetOrAdd(clinicId, _ => new SemaphoreSlim(AtOnce));
        await turn.WaitAsync(cancel);
        return new Turn(turn);
    }

    private sealed class Turn(SemaphoreSlim turn) : IDisposable
    {
        public void Dispose() => turn.Release();
    }
}
