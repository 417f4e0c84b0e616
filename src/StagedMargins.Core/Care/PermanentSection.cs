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

    internal PermanentSection(int stageNumber, string blockLabel, ClinicalTime sentAt, string? note, Guid recordedById, ClinicalTime recordedAt)
    {
        (StageNumber, BlockLabel, SentAt) = (stageNumber, blockLabel, sentAt);
        Note = FreeText.Optional("note", note);
        (RecordedById, RecordedAt) = (recordedById, recordedAt);
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

    internal void Report(PermanentResultEntry entry, Guid byId, ClinicalTime at)
    {
        if (results.Count > 0)
        {
            FreeText.Required("reason", entry.Reason);
        }

        if (entry.ReportedAt.Utc < SentAt.Utc)
        {
            throw new InvalidEntryException("reportedAt", "A result can't be reported before the block was sent.");
        }

        results.Add(new PermanentResult(entry, results.Count + 1, byId, at));
    }
}

/// <summary>What permanent sections showed.</summary>
public sealed class PermanentResult
{
    private PermanentResult()
    {
    }

    internal PermanentResult(PermanentResultEntry entry, int ordinal, Guid recordedById, ClinicalTime recordedAt)
    {
        (Ordinal, Outcome, ReportedAt) = (ordinal, entry.Outcome, entry.ReportedAt);
        Note = FreeText.Optional("note", entry.Note);
        Reason = FreeText.Optional("reason", entry.Reason);
        (RecordedById, RecordedAt) = (recordedById, recordedAt);
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
