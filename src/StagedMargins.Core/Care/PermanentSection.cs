using StagedMargins.Core.Entries;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Care;

/// <summary>A block that was sent for permanent sections. What they show changes no margin by itself: the surgeon amends the reading.</summary>
public sealed class PermanentSection
{
    private readonly List<PermanentResult> results = [];

    private PermanentSection()
    {
        BlockLabel = "";
    }

    internal PermanentSection(PermanentSectionSent sent, Authorship written)
    {
        (StageNumber, BlockLabel, SentAt, Note) = (sent.Stage, sent.Block, sent.SentAt, sent.Note?.Text);
        (RecordedById, RecordedAt) = (written.ById, written.At);
    }

    /// <summary>The stage of the block.</summary>
    public int StageNumber { get; private set; }

    /// <summary>The label of the block.</summary>
    public string BlockLabel { get; private set; }

    /// <summary>When it was sent.</summary>
    public ClinicalTime SentAt { get; private set; }

    /// <summary>What was asked.</summary>
    public string? Note { get; private set; }

    /// <summary>Who entered it.</summary>
    public Guid RecordedById { get; private set; }

    /// <summary>When it was entered.</summary>
    public ClinicalTime RecordedAt { get; private set; }

    /// <summary>Every result entered, oldest first; the last one holds.</summary>
    public IReadOnlyList<PermanentResult> Results => results;

    /// <summary>The result that holds, or null while it is awaited.</summary>
    public PermanentResult? Result => results is [.., var last] ? last : null;

    internal void Add(PermanentSectionReported reported, Authorship written) => results.Add(new PermanentResult(reported, results.Count + 1, written));
}

/// <summary>What permanent sections showed.</summary>
public sealed class PermanentResult
{
    private PermanentResult()
    {
    }

    internal PermanentResult(PermanentSectionReported reported, int ordinal, Authorship written)
    {
        (Ordinal, Outcome, ReportedAt) = (ordinal, reported.Outcome, reported.ReportedAt);
        (Note, Reason) = (reported.Note?.Text, reported.Reason?.Text);
        (RecordedById, RecordedAt) = (written.ById, written.At);
    }

    /// <summary>Its place among the results of the block, from 1.</summary>
    public int Ordinal { get; private set; }

    /// <summary>The result.</summary>
    public ReadingOutcome Outcome { get; private set; }

    /// <summary>When it was reported.</summary>
    public ClinicalTime ReportedAt { get; private set; }

    /// <summary>A remark.</summary>
    public string? Note { get; private set; }

    /// <summary>Why it was entered again.</summary>
    public string? Reason { get; private set; }

    /// <summary>Who entered it.</summary>
    public Guid RecordedById { get; private set; }

    /// <summary>When it was entered.</summary>
    public ClinicalTime RecordedAt { get; private set; }
}

/// <summary>A result of permanent sections as it is handed in.</summary>
/// <param name="Outcome">The result.</param>
/// <param name="ReportedAt">When it was reported.</param>
/// <param name="Note">A remark.</param>
/// <param name="Reason">Why it is entered again, where it is.</param>
public sealed record PermanentResultEntry(ReadingOutcome Outcome, ClinicalTime ReportedAt, string? Note = null, string? Reason = null);
