using StagedMargins.Core.Entries;

namespace StagedMargins.Core.Mapping;

/// <summary>A moment of a stage at the bench.</summary>
public enum StageMoment
{
    /// <summary>The tissue was received.</summary>
    Received,

    /// <summary>The slides were ready to read.</summary>
    SlidesReady,
}

/// <summary>An entry of when a moment came. Never changed: a correction is a further entry, and the last one holds.</summary>
public sealed class StageTime
{
    internal StageTime(MomentTime entered, int ordinal, Authorship written)
    {
        (Ordinal, Moment, Time, RecordedById, RecordedAt) = (ordinal, entered.Moment, entered.Time, written.ById, written.At);
    }

    /// <summary>Its place among the entries of the stage, from 1.</summary>
    public int Ordinal { get; }

    /// <summary>Which moment.</summary>
    public StageMoment Moment { get; }

    /// <summary>When it came.</summary>
    public ClinicalTime Time { get; }

    /// <summary>Who entered it.</summary>
    public Guid RecordedById { get; }

    /// <summary>When it was entered.</summary>
    public ClinicalTime RecordedAt { get; }
}
