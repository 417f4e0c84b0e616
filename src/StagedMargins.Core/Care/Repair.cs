using StagedMargins.Core.Entries;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Care;

/// <summary>How and when the wound was closed. Never changed: a correction is a further entry, and the last one holds.</summary>
public sealed class Repair
{
    private readonly RepairRecorded recorded;

    internal Repair(RepairRecorded recorded, int ordinal, Authorship written)
    {
        (Ordinal, Kind, RepairedOn) = (ordinal, recorded.Repair, recorded.RepairedOn);
        (this.recorded, RecordedById, RecordedAt) = (recorded, written.ById, written.At);
    }

    /// <summary>Its place among the repairs entered, from 1; the last one holds.</summary>
    public int Ordinal { get; }

    /// <summary>How.</summary>
    public RepairKind Kind { get; }

    /// <summary>On which day.</summary>
    public DateOnly RepairedOn { get; }

    /// <summary>A remark.</summary>
    public string? Note => recorded.Note?.Text;

    /// <summary>Why it was entered again.</summary>
    public string? Reason => recorded.Reason?.Text;

    /// <summary>Who entered it.</summary>
    public Guid RecordedById { get; }

    /// <summary>When it was entered.</summary>
    public ClinicalTime RecordedAt { get; }
}

/// <summary>A repair as it is handed in.</summary>
/// <param name="Kind">How.</param>
/// <param name="RepairedOn">On which day.</param>
/// <param name="Note">A remark.</param>
/// <param name="Reason">Why, where it corrects what was said before.</param>
public sealed record RepairEntry(RepairKind Kind, DateOnly RepairedOn, string? Note = null, string? Reason = null);
