using System.Collections.Concurrent;

namespace StagedMargins.Web.Writing;

/// <summary>
/// Lets the writers of this process to the head of one clinic's record in one after another, in the order they came, so that they do not
/// crowd at its lock in the database. It keeps nobody else out: the lock does. Whoever has the lock already must not wait here.
/// </summary>
public sealed class HeadLimiter
{
    private readonly ConcurrentDictionary<Guid, SemaphoreSlim> clinics = [];

    /// <summary>Waits for one's turn, which ends when what is returned is disposed of.</summary>
    public async ValueTask<IDisposable> EnterAsync(Guid clinicId, CancellationToken cancel)
    {
        var turn = clinics.GetOrAdd(clinicId, _ => new SemaphoreSlim(2));
        await turn.WaitAsync(cancel);
        return new Turn(turn);
    }

    private sealed class Turn(SemaphoreSlim turn) : IDisposable
    {
        public void Dispose() => turn.Release();
    }
}
