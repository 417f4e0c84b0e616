using System.Collections.Concurrent;
using System.Threading.Channels;

namespace StagedMargins.Web.Writing;

/// <summary>A case has changed. Says which and to what version, never what was written.</summary>
/// <param name="ClinicId">Its clinic.</param>
/// <param name="CaseId">The case.</param>
/// <param name="Version">Its version after the change.</param>
public sealed record CaseChanged(Guid ClinicId, Guid CaseId, int Version)
{
    /// <summary>Settings of a clinic have changed, which every open screen may show.</summary>
    public static CaseChanged Settings(Guid clinicId) => new(clinicId, Guid.Empty, 0);

    /// <summary>True where it is not a case but the settings of the clinic that have changed.</summary>
    public bool IsSettings => CaseId == Guid.Empty;
}

/// <summary>Tells everyone in this process who listens that a case has changed.</summary>
public sealed class CaseEvents
{
    // A listener that falls behind loses the oldest hints; what it is shown is read anew at the next one anyway.
    private const int MostWaiting = 256;

    // Versions that were told, so that one which is heard of twice is told once; forgotten when there are many.
    private const int MostTold = 100_000;

    private readonly ConcurrentDictionary<Listener, byte> listeners = new();
    private readonly ConcurrentDictionary<Guid, int> told = new();
    private readonly Channel<CaseChanged> outgoing = Channel.CreateBounded<CaseChanged>(new BoundedChannelOptions(MostTold) { FullMode = BoundedChannelFullMode.DropOldest, SingleReader = true });

    /// <summary>What this process did and other copies of the service have not been told.</summary>
    public ChannelReader<CaseChanged> Outgoing => outgoing.Reader;

    /// <summary>Tells everyone in this process, unless they know.</summary>
    public void Publish(CaseChanged happened)
    {
        if (!happened.IsSettings && !IsNews(happened))
        {
            return;
        }

        foreach (var listener in listeners.Keys.Where(listener => listener.ClinicId == happened.ClinicId))
        {
            listener.Waiting.Writer.TryWrite(happened);
        }
    }

    /// <summary>Tells everyone, in other copies of the service, too, of something that this process has committed.</summary>
    public void Tell(CaseChanged happened)
    {
        Publish(happened);
        outgoing.Writer.TryWrite(happened);
    }

    private bool IsNews(CaseChanged happened)
    {
        if (told.Count > MostTold)
        {
            told.Clear();
        }

        var isNews = true;
        told.AddOrUpdate(happened.CaseId, happened.Version, (_, version) =>
        {
            isNews = happened.Version > version;
            return Math.Max(version, happened.Version);
        });
        return isNews;
    }

    /// <summary>Listens to the changes of a clinic until disposed.</summary>
    public Listener Listen(Guid clinicId)
    {
        var listener = new Listener(clinicId, this);
        listeners[listener] = 0;
        return listener;
    }

    /// <summary>Someone who listens.</summary>
    public sealed class Listener : IDisposable
    {
        private readonly CaseEvents events;

        internal Listener(Guid clinicId, CaseEvents events)
        {
            (ClinicId, this.events) = (clinicId, events);
        }

        /// <summary>The changes, as they come.</summary>
        public ChannelReader<CaseChanged> Changes => Waiting.Reader;

        internal Guid ClinicId { get; }

        internal Channel<CaseChanged> Waiting { get; } = Channel.CreateBounded<CaseChanged>(
            new BoundedChannelOptions(MostWaiting) { FullMode = BoundedChannelFullMode.DropOldest });

        /// <inheritdoc/>
        public void Dispose() => events.listeners.TryRemove(this, out _);
    }
}
