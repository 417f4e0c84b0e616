using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Care;

/// <summary>A second reader was asked to read a block blind: without the first reading, until both are in.</summary>
public sealed class SecondRead
{
    private SecondRead()
    {
        BlockLabel = "";
    }

    internal SecondRead(int number, int stageNumber, string blockLabel, Guid readerId, Guid askedById, ClinicalTime askedAt)
    {
        (Number, StageNumber, BlockLabel, ReaderId, AskedById, AskedAt) = (number, stageNumber, blockLabel, readerId, askedById, askedAt);
    }

    /// <summary>Its number in the case, from 1.</summary>
    public int Number { get; private set; }

    /// <summary>The stage of the block.</summary>
    public int StageNumber { get; private set; }

    /// <summary>The label of the block.</summary>
    public string BlockLabel { get; private set; }

    /// <summary>The surgeon who is to read it.</summary>
    public Guid ReaderId { get; private set; }

    /// <summary>Who asked.</summary>
    public Guid AskedById { get; private set; }

    /// <summary>When.</summary>
    public ClinicalTime AskedAt { get; private set; }

    /// <summary>What the second reader said; null while it is awaited.</summary>
    public SecondReadAnswer? Answer { get; private set; }

    internal void Submit(ReadingOutcome? outcome, string? note, Guid byId, ClinicalTime at)
    {
        if (byId != ReaderId)
        {
            throw new RuleViolationException("notTheReader", "Only the surgeon who was asked can give this second read.");
        }

        Answer = Answer is null
            ? new SecondReadAnswer(outcome, note, at)
            : throw new RuleViolationException("alreadyRead", "This second read has already been given and can't be changed.");
    }
}

/// <summary>What a second reader said.</summary>
public sealed class SecondReadAnswer
{
    private SecondReadAnswer()
    {
    }

    internal SecondReadAnswer(ReadingOutcome? outcome, string? note, ClinicalTime at)
    {
        (Outcome, At) = (outcome, at);
        Note = outcome is null ? FreeText.Required("reason", note) : FreeText.Optional("note", note);
    }

    /// <summary>The result; null where the reader gave the task back unread.</summary>
    public ReadingOutcome? Outcome { get; private set; }

    /// <summary>A remark, or why the task was given back.</summary>
    public string? Note { get; private set; }

    /// <summary>When.</summary>
    public ClinicalTime At { get; private set; }
}

/// <summary>Two readings of one block by two readers who did not know of each other's.</summary>
/// <param name="First">The first reader's result, as it was before any amendment.</param>
/// <param name="Second">The second reader's result.</param>
public sealed record ReadPair(ReadingOutcome First, ReadingOutcome Second);
