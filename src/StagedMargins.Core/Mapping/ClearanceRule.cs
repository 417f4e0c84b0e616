using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Mapping;

/// <summary>When a case may end as cleared: all of both margins seen and clear, and every reading that counts signed.</summary>
internal static class ClearanceRule
{
    /// <summary>Refuses to end a case as cleared that is not.</summary>
    /// <exception cref="RuleViolationException">No layer was taken, a place is outstanding or unread, or a reading is unsigned.</exception>
    internal static void Guard(SurgicalCase surgicalCase)
    {
        // Where a case stands does not depend on the overlap: only the target does.
        var margins = surgicalCase.Margins(default);
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
    }
}
