using StagedMargins.Core.Care;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Entries;

/// <summary>The wound was closed.</summary>
/// <param name="Repair">How.</param>
/// <param name="RepairedOn">On which day.</param>
/// <param name="Note">A remark.</param>
/// <param name="Reason">Why it corrects what was said before, where it does.</param>
public sealed record RepairRecorded(RepairKind Repair, DateOnly RepairedOn, Words? Note, Words? Reason) : CaseEvent
{
    /// <summary>Its kind.</summary>
    public static readonly CaseEntryKind Kind = CaseEntryKind.For<RepairRecorded>("recordRepair", surgeonAlone: true);

    /// <summary>Decides that a repair is entered.</summary>
    /// <exception cref="RuleViolationException">No layer has been taken.</exception>
    /// <exception cref="InvalidEntryException">It corrects what was said before and gives no reason.</exception>
    public static RepairRecorded Decide(SurgicalCase state, RepairEntry entry, ClinicalTime now)
    {
        state.GuardDay("repairedOn", entry.RepairedOn, now);
        SurgicalCase.GuardEntryLimit("repairedOn", state.Repairs.Count, RecordLimits.Repairs);
        var corrects = state.Repairs.Count > 0 || (state.Ending?.Repair is { } said && said != entry.Kind);
        return new RepairRecorded(
            entry.Kind,
            entry.RepairedOn,
            Words.Of(FreeText.Optional("note", entry.Note)),
            Words.Of(corrects ? FreeText.Required("reason", entry.Reason) : FreeText.Optional("reason", entry.Reason)));
    }

    /// <inheritdoc/>
    public override CaseEvent DecideAgain(SurgicalCase state, Authorship written) => Decide(state, new RepairEntry(Repair, RepairedOn, Note?.Text, Reason?.Text), written.At);

    /// <inheritdoc/>
    public override string Sentence(SurgicalCase before, Func<Guid, string> nameOf) => Sentences.EntryRepair(Terms.Of(Repair), RepairedOn.InWords());

    internal override SurgicalCase Apply(SurgicalCase state, Authorship written) => state with { Repairs = state.Repairs.Plus(new Repair(this, state.Repairs.Count + 1, written)) };
}
