using StagedMargins.Core.Entries;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Care;

/// <summary>A block that was sent for permanent sections. What they show changes no margin by itself: the surgeon amends the reading.</summary>
public sealed record PermanentSection
{
    private readonly PermanentSectionSent sent;

    internal PermanentSection(PermanentSectionSent sent, int number, Authorship written)
    {
        (Number, StageNumber, BlockLabel, SentAt) = (number, sent.Stage, sent.Block, sent.SentAt);
        (this.sent, RecordedById, RecordedAt) = (sent, written.ById, written.At);
    }

    /// <summary>True where its block or stage is gone, so that nothing more is awaited.</summary>
    public bool IsVoid { get; internal init; }

    /// <summary>Its number in the case, from 1.</summary>
    public int Number { get; }

    /// <summary>The stage of the block.</summary>
    public int StageNumber { get; }

    /// <summary>The label of the block.</summary>
    public string BlockLabel { get; }

    /// <summary>When it was sent.</summary>
    public ClinicalTime SentAt { get; }

    /// <summary>What was asked.</summary>
    public string? Note => sent.Note?.Text;

    /// <summary>Who entered it.</summary>
    public Guid RecordedById { get; }

    /// <summary>When it was entered.</summary>
    public ClinicalTime RecordedAt { get; }

    /// <summary>Every result entered, oldest first; the last one holds.</summary>
    public IReadOnlyList<PermanentResult> Results { get; internal init; } = [];

    /// <summary>The result that holds, or null while it is awaited.</summary>
    public PermanentResult? Result => Results is [.., var last] ? last : null;
}

/// <summary>What permanent sections showed.</summary>
public sealed class PermanentResult
{
    private readonly PermanentSectionReported reported;

    internal PermanentResult(PermanentSectionReported reported, int ordinal, Authorship written)
    {
        (Ordinal, Outcome, ReportedAt) = (ordinal, reported.Outcome, reported.ReportedAt);
        (this.reported, RecordedById, RecordedAt) = (reported, written.ById, written.At);
    }

    /// <summary>Its place among the results of the block, from 1.</summary>
    public int Ordinal { get; }

    /// <summary>The result.</summary>
    public ReadingOutcome Outcome { get; }

    /// <summary>When it was reported.</summary>
    public ClinicalTime ReportedAt { get; }

    /// <summary>A remark.</summary>
    public string? Note => reported.Note?.Text;

    /// <summary>What was seen, where places were named.</summary>
    public IReadOnlyList<Finding> Findings => reported.Findings ?? [];

    /// <summary>Who reported it.</summary>
    public string? ReportedBy => reported.ReportedBy?.Text;

    /// <summary>The laboratory.</summary>
    public string? Laboratory => reported.Laboratory?.Text;

    /// <summary>Why it was entered again.</summary>
    public string? Reason => reported.Reason?.Text;

    /// <summary>Who entered it.</summary>
    public Guid RecordedById { get; }

    /// <summary>When it was entered.</summary>
    public ClinicalTime RecordedAt { get; }
}

/// <summary>A result of permanent sections as it is handed in.</summary>
/// <param name="Outcome">The result.</param>
/// <param name="ReportedAt">When it was reported.</param>
/// <param name="Note">A remark.</param>
/// <param name="Reason">Why it is entered again, where it is.</param>
/// <param name="Findings">What was seen, where places were named; without one a positive result is of the whole block.</param>
/// <param name="ReportedBy">Who reported it.</param>
/// <param name="Laboratory">The laboratory.</param>
public sealed record PermanentResultEntry(
    ReadingOutcome Outcome,
    ClinicalTime ReportedAt,
    string? Note = null,
    string? Reason = null,
    IReadOnlyList<FindingEntry>? Findings = null,
    string? ReportedBy = null,
    string? Laboratory = null);
