using StagedMargins.Core.Entries;

namespace StagedMargins.Core.Care;

/// <summary>A visit after surgery. Never changed: a correction is a further entry that names the visit it corrects.</summary>
public sealed class Visit
{
    private readonly VisitRecorded recorded;

    internal Visit(VisitRecorded recorded, int number, Authorship written)
    {
        (Number, VisitedOn, Recurrence, Corrects) = (number, recorded.VisitedOn, recorded.Recurrence, recorded.Corrects);
        (this.recorded, RecordedById, RecordedAt) = (recorded, written.ById, written.At);
    }

    /// <summary>Its number in the case, from 1.</summary>
    public int Number { get; }

    /// <summary>The day of the visit.</summary>
    public DateOnly VisitedOn { get; }

    /// <summary>True where the tumour was found to have come back.</summary>
    public bool Recurrence { get; }

    /// <summary>A remark.</summary>
    public string? Note => recorded.Note?.Text;

    /// <summary>The number of the visit that this entry stands in place of.</summary>
    public int? Corrects { get; }

    /// <summary>Why it corrects that one.</summary>
    public string? Reason => recorded.Reason?.Text;

    /// <summary>Who entered it.</summary>
    public Guid RecordedById { get; }

    /// <summary>When it was entered.</summary>
    public ClinicalTime RecordedAt { get; }
}

/// <summary>A visit as it is handed in.</summary>
/// <param name="VisitedOn">The day of the visit.</param>
/// <param name="Recurrence">True where the tumour was found to have come back.</param>
/// <param name="Note">A remark.</param>
/// <param name="Corrects">The visit that it stands in place of.</param>
/// <param name="Reason">Why it does.</param>
public sealed record VisitEntry(DateOnly VisitedOn, bool Recurrence, string? Note = null, int? Corrects = null, string? Reason = null);
