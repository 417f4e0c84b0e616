using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Mapping;

/// <summary>In which ways a case may end as it stands.</summary>
public static class EndingRule
{
    /// <summary>
    /// True where a case may end as cleared without a reason: all of both margins seen and clear, every reading that counts signed, no
    /// review open, and no permanent section or second read awaited.
    /// </summary>
    public static bool IsClear(SurgicalCase surgicalCase) =>
        surgicalCase.State == CaseState.Cleared && surgicalCase.ToBeCountersigned().Count == 0 && !surgicalCase.OpenReviews().Any() && Questions(surgicalCase).Count == 0;

    /// <summary>Permanent sections and second reads that are still awaited, in words.</summary>
    public static IReadOnlyList<string> Questions(SurgicalCase surgicalCase) =>
    [
        .. surgicalCase.PermanentSections.Where(sent => sent is { IsVoid: false, Result: null }).Select(sent => Sentences.AwaitedPermanent(Sentences.StageBlock(sent.StageNumber, sent.BlockLabel))),
        .. surgicalCase.SecondReads.Where(read => read is { IsVoid: false, Answer: null }).Select(read => Sentences.AwaitedSecondRead(Sentences.StageBlock(read.StageNumber, read.BlockLabel))),
    ];

    /// <summary>Refuses an end that does not fit how the case stands.</summary>
    /// <exception cref="RuleViolationException">It does not.</exception>
    /// <exception cref="InvalidEntryException">The day on which the case continues is missing, or given for a case that does not.</exception>
    internal static void Guard(SurgicalCase surgicalCase, EndingEntry entry)
    {
        // Where a case stands does not depend on the overlap: only the target does.
        var margins = surgicalCase.Margins(default);
        var isOutstanding = CaseMargins.Both.Any(margin => !margins[margin].Outstanding.IsEmpty);
        switch (entry.Outcome)
        {
            case CaseOutcome.Cleared:
                GuardCleared(surgicalCase, margins, entry);
                break;
            case CaseOutcome.StoppedWithTumour when !isOutstanding:
                GuardNotClear(surgicalCase);
                throw new RuleViolationException("noTumourOutstanding", "No tumour is outstanding. End the case as stopped without being cleared, or as not done.");
            case CaseOutcome.StoppedNotCleared when isOutstanding:
                throw new RuleViolationException("tumourOutstanding", $"{Sentences.NotClear(margins.NotClear().InSentence())} End the case as stopped with tumour.", margins.NotClear());
            case CaseOutcome.StoppedNotCleared:
                GuardNotClear(surgicalCase);
                break;
            case CaseOutcome.NotDone when surgicalCase.Stages.Count > 0:
                throw new RuleViolationException("stageRecorded", "A layer was recorded. If none was taken, withdraw the stage first.");
            case CaseOutcome.ContinuesLater when entry.ContinuesOn is null:
                throw new InvalidEntryException("continuesOn", "Required: the day on which the case continues.");
            default:
                break;
        }

        if (entry is { Outcome: CaseOutcome.Cleared, ContinuesOn: not null })
        {
            throw new InvalidEntryException("continuesOn", "A cleared case can't continue on another day.");
        }
    }

    private static void GuardNotClear(SurgicalCase surgicalCase)
    {
        if (IsClear(surgicalCase))
        {
            throw new RuleViolationException("marginsClear", "All of both margins was seen and is clear, and everything is signed: end the case as cleared.");
        }
    }

    private static void GuardCleared(SurgicalCase surgicalCase, CaseMargins margins, EndingEntry entry)
    {
        if (margins.State != CaseState.Cleared)
        {
            throw margins.AfterStage == 0
                ? new RuleViolationException("noTissue", "No layer has been taken, so no margin has been seen to be clear.")
                : new RuleViolationException("marginsNotClear", Sentences.NotClear(margins.NotClear().InSentence()), margins.NotClear());
        }

        if (surgicalCase.ToBeCountersigned() is { Count: > 0 } unsigned)
        {
            throw new RuleViolationException(
                "toBeCountersigned",
                Sentences.ToBeCountersigned(string.Join(", ", unsigned.Select(one => Sentences.StageBlock(one.Stage.Number, one.Block.Label)))));
        }

        if (surgicalCase.OpenReviews().ToList() is { Count: > 0 } open)
        {
            throw new RuleViolationException("reviewsOpen", Sentences.ReviewsOpen(string.Join(" ", open.Select(review => review.Message()))));
        }

        if (Questions(surgicalCase) is { Count: > 0 } questions && FreeText.Optional("reason", entry.Reason) is null)
        {
            throw new RuleViolationException("questionsOpen", Sentences.QuestionsOpen(string.Join(", ", questions)));
        }
    }
}
