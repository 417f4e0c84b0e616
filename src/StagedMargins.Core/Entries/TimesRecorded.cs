using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Entries;

/// <summary>When a moment of a stage came.</summary>
/// <param name="Moment">Which moment.</param>
/// <param name="Time">When.</param>
public sealed record MomentTime(StageMoment Moment, ClinicalTime Time);

/// <summary>It was entered when moments of a stage came at the bench.</summary>
/// <param name="Stage">The stage.</param>
/// <param name="Times">When each came.</param>
public sealed record TimesRecorded(int Stage, IReadOnlyList<MomentTime> Times) : CaseEvent
{
    /// <summary>Its kind.</summary>
    public static readonly CaseEntryKind Kind = CaseEntryKind.For<TimesRecorded>("recordTimes");

    /// <summary>Decides that times are entered.</summary>
    /// <exception cref="NotInRecordException">There is no such stage.</exception>
    /// <exception cref="InvalidEntryException">No moment was given, or one twice.</exception>
    /// <exception cref="RuleViolationException">The case has ended.</exception>
    public static TimesRecorded Decide(SurgicalCase state, int stage, IReadOnlyList<MomentTime> times)
    {
        state.StageOf(stage);
        state.GuardOpen("its times can't be entered");
        return times.Count > 0 && times.Select(time => time.Moment).Distinct().Count() == times.Count
            ? new TimesRecorded(stage, [.. times])
            : throw new InvalidEntryException("receivedAt", "Enter when the tissue was received, when the slides were ready, or both.");
    }

    /// <inheritdoc/>
    public override CaseEvent DecideAgain(SurgicalCase state, Authorship written) => Decide(state, Stage, Times);

    /// <inheritdoc/>
    public override string Sentence(SurgicalCase before, Func<Guid, string> nameOf) =>
        Sentences.EntryTime(Stage, string.Join("; ", Times.Select(time => $"{Terms.Of(time.Moment)} {time.Time.InWords()}")));

    internal override SurgicalCase Apply(SurgicalCase state, Authorship written) => 
        state.With(Stage, stage => stage with { Times = [.. stage.Times, .. Times.Select((time, i) => new StageTime(time, stage.Times.Count + i + 1, written))] });
}
