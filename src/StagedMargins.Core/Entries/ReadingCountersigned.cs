using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Entries;

/// <summary>The reader signed a reading that someone else wrote down.</summary>
/// <param name="ReadingId">The reading.</param>
public sealed record ReadingCountersigned(Guid ReadingId) : CaseEvent
{
    /// <summary>Its kind.</summary>
    public static readonly CaseEntryKind Kind = CaseEntryKind.For<ReadingCountersigned>("countersign", surgeonAlone: true);

    /// <summary>Decides that a reading is signed.</summary>
    /// <exception cref="NotInRecordException">There is no such reading.</exception>
    /// <exception cref="RuleViolationException">It was amended, is signed already, or someone else is its reader.</exception>
    public static ReadingCountersigned Decide(SurgicalCase state, Guid readingId, Guid byId)
    {
        var counting = BlockOf(state, readingId)?.CountingReading ?? throw new NotInRecordException("The case has no such reading.");
        return counting switch
        {
            { Id: var id } when id != readingId => throw new RuleViolationException("amended", "This reading was amended and no longer counts; countersign the one that counts."),
            { SignedById: not null } => throw new RuleViolationException("alreadySigned", "This reading is already signed."),
            { ReaderId: var reader } when reader != byId => throw new RuleViolationException(
                "notTheReader", "Only the surgeon named as the reader can countersign a reading. Another surgeon who disagrees can amend it with a reading of their own."),
            _ => new ReadingCountersigned(readingId),
        };
    }

    /// <inheritdoc/>
    public override CaseEvent DecideAgain(SurgicalCase state, Authorship written) => Decide(state, ReadingId, written.ById);

    /// <inheritdoc/>
    public override string Sentence(SurgicalCase before, Func<Guid, string> nameOf) =>
        before.PlaceOf(ReadingId) is var (stage, block) ? Sentences.EntrySigned(stage.Number, block.Label) : "";

    internal override SurgicalCase Apply(SurgicalCase state, Authorship written) =>
        state.With(ReadingId, reading => reading with { Countersignature = new Countersignature(written) });

    private static Block? BlockOf(SurgicalCase state, Guid readingId) =>
        state.Stages.SelectMany(stage => stage.Blocks).FirstOrDefault(block => block.Readings.Any(reading => reading.Id == readingId));
}
