using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Entries;

/// <summary>The reading of a block that counted was withdrawn: none counts then, until there is another.</summary>
/// <param name="ReadingId">The reading.</param>
/// <param name="Reason">Why.</param>
public sealed record ReadingWithdrawn(Guid ReadingId, Words Reason) : CaseEvent
{
    /// <summary>Its kind.</summary>
    public static readonly CaseEntryKind Kind = CaseEntryKind.For<ReadingWithdrawn>("withdrawReading");

    /// <summary>Decides that a reading is withdrawn.</summary>
    /// <exception cref="NotInRecordException">There is no such reading.</exception>
    /// <exception cref="InvalidEntryException">No reason was given.</exception>
    /// <exception cref="RuleViolationException">It was amended or withdrawn already.</exception>
    public static ReadingWithdrawn Decide(SurgicalCase state, Guid readingId, string? reason)
    {
        var reading = state.FindReading(readingId) ?? throw new NotInRecordException("The case has no such reading.");
        if (reading.Withdrawal is not null)
        {
            throw new RuleViolationException("withdrawn", "This reading has already been withdrawn.");
        }

        return state.PlaceOf(readingId).Block.CountingReading?.Id == readingId
            ? new ReadingWithdrawn(readingId, Words.Of(FreeText.Required("reason", reason))!)
            : throw new RuleViolationException("amended", "This reading was amended and no longer counts; withdraw the one that counts.");
    }

    /// <inheritdoc/>
    public override CaseEvent DecideAgain(SurgicalCase state, Authorship written) => Decide(state, ReadingId, Reason.Text);

    /// <inheritdoc/>
    public override string Sentence(SurgicalCase before, Func<Guid, string> nameOf) =>
        before.PlaceOf(ReadingId) is var (stage, block) ? Sentences.EntryReadingWithdrawn(stage.Number, block.Label, Sentences.ReasonGiven(Reason.Text)) : "";

    internal override SurgicalCase Apply(SurgicalCase state, Authorship written) =>
        state.With(ReadingId, reading => reading with { Withdrawal = new Withdrawal(Reason, written) });
}
