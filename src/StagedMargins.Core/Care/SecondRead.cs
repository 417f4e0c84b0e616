using StagedMargins.Core.Entries;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Care;

/// <summary>A second reader was asked to read a block blind: without the first reading, until both are in.</summary>
public sealed record SecondRead
{
    internal SecondRead(SecondReadAsked asked, int number, Authorship written)
    {
        (Number, StageNumber, BlockLabel, ReaderId) = (number, asked.Stage, asked.Block, asked.ReaderId);
        (AskedById, AskedAt) = (written.ById, written.At);
    }

    /// <summary>Its number in the case, from 1.</summary>
    public int Number { get; }

    /// <summary>True where its block or stage is gone, so that nothing more is awaited.</summary>
    public bool IsVoid { get; internal init; }

    /// <summary>The stage of the block.</summary>
    public int StageNumber { get; }

    /// <summary>The label of the block.</summary>
    public string BlockLabel { get; }

    /// <summary>The surgeon who is to read it.</summary>
    public Guid ReaderId { get; }

    /// <summary>Who asked.</summary>
    public Guid AskedById { get; }

    /// <summary>When.</summary>
    public ClinicalTime AskedAt { get; }

    /// <summary>What the second reader said; null while it is awaited.</summary>
    public SecondReadAnswer? Answer { get; internal init; }
}

/// <summary>What a second reader said.</summary>
public sealed class SecondReadAnswer
{
    private readonly Words? note;

    internal SecondReadAnswer(ReadingOutcome? outcome, Words? note, ClinicalTime at)
    {
        (Outcome, this.note, At) = (outcome, note, at);
    }

    /// <summary>The result; null where the reader gave the task back unread.</summary>
    public ReadingOutcome? Outcome { get; }

    /// <summary>A remark, or why the task was given back.</summary>
    public string? Note => note?.Text;

    /// <summary>When.</summary>
    public ClinicalTime At { get; }
}

/// <summary>Two readings of one block by two readers who did not know of each other's.</summary>
/// <param name="First">The first reader's result, as it was before any amendment.</param>
/// <param name="Second">The second reader's result.</param>
public sealed record ReadPair(ReadingOutcome First, ReadingOutcome Second);
