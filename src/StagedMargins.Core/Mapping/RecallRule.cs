namespace StagedMargins.Core.Mapping;

/// <summary>When a closed case is flagged for recall of the patient.</summary>
internal static class RecallRule
{
    /// <summary>True where an entry leaves a case not clear that had ended with clear margins, whatever its end was called.</summary>
    internal static bool IsRaised(CaseOutcome? outcome, CaseState before, CaseState after) =>
        outcome is not null && before == CaseState.Cleared && after != CaseState.Cleared;
}
