using StagedMargins.Core.Entries;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Care;

/// <summary>A second reader was asked to read a block blind: without the first reading, until both are in.</summary>
public sealed class SecondRead
{
    private SecondRead()
    {
        BlockLabel = "";
    }

    internal SecondRead(SecondReadAsked asked, int number, Authorship written)
    {
        (Number, StageNumber, BlockLabel, ReaderId) = (number, asked.Stage, asked.Block, asked.ReaderId);
        (AskedById, AskedAt) = (written.ById, written.At);
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

    internal void Submit(SecondReadAnswer answer) => Answer = answer;
}

/// <summary>What a second reader said.</summary>
public sealed class SecondReadAnswer
{
    private SecondReadAnswer()
    {
    }

    internal SecondReadAnswer(ReadingOutcome? outcome, string? note, ClinicalTime at)
    {
        (Outcome, Note, At) = (outcome, note, at);
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
