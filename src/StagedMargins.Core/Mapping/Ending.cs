using StagedMargins.Core.Entries;

namespace StagedMargins.Core.Mapping;

/// <summary>How a case ends.</summary>
public enum CaseOutcome
{
    /// <summary>The whole margin was seen and is clear.</summary>
    Cleared,

    /// <summary>Stopped though tumour remains or the margin was not seen, with reason and plan.</summary>
    StoppedWithTumour,

    /// <summary>Stopped without tumour outstanding, though the margin is not clear for all that is known.</summary>
    StoppedNotCleared,

    /// <summary>No layer was taken after all.</summary>
    NotDone,

    /// <summary>To be continued on another day: a pause, not an end.</summary>
    ContinuesLater,
}

/// <summary>How the wound is closed.</summary>
public enum RepairKind
{
    /// <summary>Left to heal.</summary>
    SecondIntention,

    /// <summary>Closed side to side.</summary>
    SideToSide,

    /// <summary>Flap.</summary>
    Flap,

    /// <summary>Graft.</summary>
    Graft,

    /// <summary>Referred to someone else.</summary>
    Referred,
}

/// <summary>An ending as it is handed in.</summary>
/// <param name="Outcome">How the case ends.</param>
/// <param name="EndedAt">When.</param>
/// <param name="Reason">Why; required when stopped or not done, and when cleared while a question is open.</param>
/// <param name="Plan">What follows; required when stopped.</param>
/// <param name="ContinuesOn">The day it continues, where it does and the day is known.</param>
/// <param name="Repair">How the wound is closed.</param>
public sealed record EndingEntry(
    CaseOutcome Outcome,
    ClinicalTime EndedAt,
    string? Reason,
    string? Plan,
    DateOnly? ContinuesOn,
    RepairKind? Repair);

/// <summary>The end of a case, as it was written.</summary>
public sealed record Ending
{
    private readonly CaseEnded ended;

    internal Ending(CaseEnded ended, Authorship written)
    {
        (this.ended, Outcome, EndedAt) = (ended, ended.Outcome, ended.EndedAt);
        (ContinuesOn, Repair) = (ended.ContinuesOn, ended.Repair);
        (RecordedById, RecordedAt) = (written.ById, written.At);
    }

    /// <summary>How the case ended.</summary>
    public CaseOutcome Outcome { get; }

    /// <summary>When.</summary>
    public ClinicalTime EndedAt { get; }

    /// <summary>Why.</summary>
    public string? Reason => ended.Reason?.Text;

    /// <summary>What follows.</summary>
    public string? Plan => ended.Plan?.Text;

    /// <summary>The day it continues.</summary>
    public DateOnly? ContinuesOn { get; }

    /// <summary>How the wound was closed.</summary>
    public RepairKind? Repair { get; }

    /// <summary>That the case was opened again, where it was.</summary>
    public Withdrawal? Reopened { get; internal init; }

    /// <summary>Who wrote it.</summary>
    public Guid RecordedById { get; }

    /// <summary>When it was written.</summary>
    public ClinicalTime RecordedAt { get; }
}
