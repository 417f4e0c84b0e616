using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Entries;

/// <summary>The wound was measured.</summary>
/// <param name="Length">Length.</param>
/// <param name="Width">Width.</param>
/// <param name="Plane">The deepest plane.</param>
/// <param name="Reason">Why it was measured or entered again.</param>
public sealed record DefectMeasured(Length Length, Length Width, AnatomicalPlane? Plane, Words? Reason) : CaseEvent
{
    /// <summary>Its kind.</summary>
    public static readonly CaseEntryKind Kind = CaseEntryKind.For<DefectMeasured>("measureDefect", surgeonAlone: true);

    /// <summary>Decides that a measurement is entered.</summary>
    /// <exception cref="RuleViolationException">No layer has been taken.</exception>
    /// <exception cref="InvalidEntryException">It corrects an earlier one and gives no reason.</exception>
    public static DefectMeasured Decide(SurgicalCase state, MeasuredDefectEntry entry)
    {
        if (state.Stages.Count == 0)
        {
            throw new RuleViolationException("noTissue", "No layer has been taken, so there is no defect to measure.");
        }

        var reason = state.MeasuredDefects.Count > 0 ? FreeText.Required("reason", entry.Reason) : FreeText.Optional("reason", entry.Reason);
        return new DefectMeasured(entry.Length, entry.Width, entry.Plane, Words.Of(reason));
    }

    /// <inheritdoc/>
    public override CaseEvent DecideAgain(SurgicalCase state, Authorship written) => Decide(state, ToEntry());

    /// <summary>The measurement as it was handed in.</summary>
    internal MeasuredDefectEntry ToEntry() => new(Length, Width, Plane, Reason?.Text);

    /// <inheritdoc/>
    public override string Sentence(SurgicalCase before, Func<Guid, string> nameOf) => Sentences.EntryMeasured($"{Length}", $"{Width}");

    internal override SurgicalCase Apply(SurgicalCase state, Authorship written) =>
        state with { MeasuredDefects = state.MeasuredDefects.Plus(new MeasuredDefect(this, state.MeasuredDefects.Count + 1, written)) };
}
