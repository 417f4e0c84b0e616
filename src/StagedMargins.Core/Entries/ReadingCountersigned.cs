using System.Text.Json.Serialization;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Entries;

/// <summary>The reader signed a reading that someone else wrote down.</summary>
/// <param name="ReadingId">The reading.</param>
/// <param name="TakesOver">True where another surgeon who has seen the slide signs in the reader's place.</param>
public sealed record ReadingCountersigned(
    Guid ReadingId,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingDefault)] bool TakesOver = false) : CaseEvent
{
    /// <summary>Its kind.</summary>
    public static readonly CaseEntryKind Kind = CaseEntryKind.For<ReadingCountersigned>("countersign", surgeonAlone: true);

    /// <summary>Decides that a reading is signed.</summary>
    /// <exception cref="NotInRecordException">There is no such reading.</exception>
    /// <exception cref="RuleViolationException">It was amended, is signed already, or someone else is its reader.</exception>
    public static ReadingCountersigned Decide(SurgicalCase state, Guid readingId, Guid byId, bool takesOver)
    {
        var reading = state.FindReading(readingId) ?? throw new NotInRecordException("The case has no such reading.");
        if (reading.Withdrawal is not null)
        {
            throw new RuleViolationException("withdrawn", "This reading was withdrawn and no longer counts.");
        }

        return state.PlaceOf(readingId).Block.CountingReading! switch
        {
            { Id: var id } when id != readingId => throw new RuleViolationException("amended", "This reading was amended and no longer counts; countersign the one that counts."),
            { SignedById: not null } => throw new RuleViolationException("alreadySigned", "This reading is already signed."),
            { ReaderId: var reader } when reader != byId && !takesOver => throw new RuleViolationException(
                "notTheReader", "Only the surgeon named as the reader can countersign a reading. Another surgeon who has seen the slide can take it over, or amend it with a reading of their own."),
            { ReaderId: var reader } => new ReadingCountersigned(readingId, takesOver && reader != byId),
        };
    }

    /// <inheritdoc/>
    public override CaseEvent DecideAgain(SurgicalCase state, Authorship written) => Decide(state, ReadingId, written.ById, TakesOver);

    /// <inheritdoc/>
    public override string Sentence(SurgicalCase before, Func<Guid, string> nameOf) =>
        before.PlaceOf(ReadingId) is var (stage, block) ? Sentences.EntrySigned(stage.Number, block.Label) : "";

    internal override SurgicalCase Apply(SurgicalCase state, Authorship written) =>
        state.With(ReadingId, reading => reading with { Countersignature = new Countersignature(written) });
}
