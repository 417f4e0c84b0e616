using StagedMargins.Core.Care;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Entries;

/// <summary>A visit after surgery was entered, or the correction of one.</summary>
/// <param name="VisitedOn">The day of the visit.</param>
/// <param name="Recurrence">True where the tumour was found to have come back.</param>
/// <param name="Note">A remark.</param>
/// <param name="Corrects">The number of the visit that it stands in place of.</param>
/// <param name="Reason">Why it does.</param>
public sealed record VisitRecorded(DateOnly VisitedOn, bool Recurrence, Words? Note, int? Corrects, Words? Reason) : CaseEvent
{
    /// <summary>Its kind.</summary>
    public static readonly CaseEntryKind Kind = CaseEntryKind.For<VisitRecorded>("recordVisit", surgeonAlone: true);

    /// <summary>Decides that a visit is entered.</summary>
    /// <exception cref="RuleViolationException">No layer has been taken, or the visit to correct was corrected already.</exception>
    /// <exception cref="InvalidEntryException">Before the surgery or after today, or a correction of no visit or without reason.</exception>
    public static VisitRecorded Decide(SurgicalCase state, VisitEntry entry, ClinicalTime now)
    {
        state.GuardDay("visitedOn", entry.VisitedOn, now);
        SurgicalCase.GuardEntryLimit("visitedOn", state.Visits.Count, RecordLimits.Visits);
        if (entry.Corrects is { } corrects)
        {
            FreeText.Required("reason", entry.Reason);
            if (corrects < 1 || corrects > state.Visits.Count)
            {
                throw new InvalidEntryException("corrects", $"The case has {state.Visits.Count} visits.");
            }

            if (state.Visits.Any(other => other.Corrects == corrects))
            {
                throw new RuleViolationException("alreadyCorrected", $"Visit {corrects} has already been corrected; correct the entry that replaced it.");
            }
        }

        return new VisitRecorded(entry.VisitedOn, entry.Recurrence, Words.Of(FreeText.Optional("note", entry.Note)), entry.Corrects, Words.Of(FreeText.Optional("reason", entry.Reason)));
    }

    /// <inheritdoc/>
    public override CaseEvent DecideAgain(SurgicalCase state, Authorship written) => Decide(state, new VisitEntry(VisitedOn, Recurrence, Note?.Text, Corrects, Reason?.Text), written.At);

    /// <inheritdoc/>
    public override string Sentence(SurgicalCase before, Func<Guid, string> nameOf) =>
        Corrects is { } corrected
            ? Sentences.EntryVisitCorrected(corrected, VisitedOn.InWords(), Result, Reason is { } reason ? Sentences.ReasonGiven(reason.Text) : Sentences.NoReasonGiven)
            : Sentences.EntryVisit(VisitedOn.InWords(), Result);

    private string Result => Recurrence ? Sentences.Recurrence : Sentences.NoRecurrence;

    internal override SurgicalCase Apply(SurgicalCase state, Authorship written) => state with { Visits = state.Visits.Plus(new Visit(this, state.Visits.Count + 1, written)) };
}
