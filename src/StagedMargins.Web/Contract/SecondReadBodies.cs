using StagedMargins.Core.Care;
using StagedMargins.Core.Mapping;
using StagedMargins.Web.Problems;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Contract;

/// <summary>What a second reader said, as the history keeps it.</summary>
/// <param name="Number">Of which second read.</param>
/// <param name="Outcome">The result; null where the task was given back.</param>
/// <param name="Note">A remark, or why it was given back.</param>
/// <param name="Findings">What was seen, where places were named.</param>
internal sealed record SecondReadSubmitted(int Number, ReadingOutcome? Outcome, string? Note, FindingBody?[]? Findings = null)
{
    /// <summary>Enters it in the case.</summary>
    /// <exception cref="InvalidRequestException">A finding is at fault.</exception>
    internal SecondRead Record(Change change)
    {
        var errors = new FieldErrors();
        var findings = ReadingTranslation.ToFindings(Findings, errors);
        errors.ThrowIfAny();
        return Outcome is { } outcome
            ? change.Log.AnswerSecondRead(Number, outcome, Note, change.ById, change.At, findings)
            : change.Log.GiveBackSecondRead(Number, Note, change.ById, change.At);
    }
}

/// <summary>Who is to read a block a second time, as it is taken.</summary>
/// <param name="ReaderEmail">The surgeon. Required.</param>
public sealed record SecondReadBody(string? ReaderEmail);

/// <summary>A second reader's result as it is taken.</summary>
/// <param name="Outcome">The result. Required.</param>
/// <param name="Note">A remark.</param>
/// <param name="Findings">What was seen, placed as in a reading.</param>
public sealed record SecondReadAnswerBody(ReadingOutcome? Outcome, string? Note, FindingBody?[]? Findings = null);

/// <summary>That a second reader gives the task back, as it is taken.</summary>
/// <param name="Reason">Why. Required.</param>
public sealed record GiveBackBody(string? Reason);

/// <summary>Where a second read stands.</summary>
public enum SecondReadState
{
    /// <summary>Asked for, and not in.</summary>
    Awaited,

    /// <summary>Both readings are in.</summary>
    In,

    /// <summary>Given back unread.</summary>
    GivenBack,
}

/// <summary>A second read as it is sent.</summary>
/// <param name="Number">Its number in the case.</param>
/// <param name="Stage">The stage of the block.</param>
/// <param name="Block">The label of the block.</param>
/// <param name="ReaderEmail">The second reader.</param>
/// <param name="AskedAt">When it was asked for.</param>
/// <param name="State">Where it stands.</param>
/// <param name="First">The first reader's result, before any amendment; null until both are in.</param>
/// <param name="Second">The second reader's result; null until both are in.</param>
/// <param name="Note">A remark, or why it was given back.</param>
public sealed record SecondReadView(
    int Number, int Stage, string Block, string? ReaderEmail, DateTimeOffset AskedAt, SecondReadState State, ReadingOutcome? First, ReadingOutcome? Second, string? Note)
{
    /// <summary>A second read as it is sent.</summary>
    public static SecondReadView Of(SurgicalCase surgicalCase, SecondRead read, ClinicPeople people)
    {
        var pair = surgicalCase.PairOf(read);
        return new SecondReadView(
            read.Number,
            read.StageNumber,
            read.BlockLabel,
            people.EmailOf(read.ReaderId),
            read.AskedAt.ToDateTimeOffset(),
            read.Answer switch { null => SecondReadState.Awaited, { Outcome: null } => SecondReadState.GivenBack, _ => SecondReadState.In },
            pair?.First,
            pair?.Second,
            read.Answer?.Note);
    }
}

/// <summary>A block that waits for a second reader: what is needed to find and read the slide, and nothing that was read before.</summary>
/// <param name="CaseId">The case.</param>
/// <param name="CaseNumber">Its number in the clinic.</param>
/// <param name="Number">The number of the second read in the case.</param>
/// <param name="Stage">The stage of the block.</param>
/// <param name="Block">The label of the block.</param>
/// <param name="Arc">The clock arc it covers.</param>
/// <param name="Centre">True where it includes the middle of the floor.</param>
/// <param name="FromInk">Ink where its arc begins.</param>
/// <param name="ToInk">Ink where its arc ends.</param>
/// <param name="AskedAt">When it was asked for.</param>
public sealed record SecondReadTask(
    Guid CaseId, string CaseNumber, int Number, int Stage, string Block, ArcBody? Arc, bool Centre, string? FromInk, string? ToInk, DateTimeOffset AskedAt);
