using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.FollowUp;

/// <summary>How long a patient was followed after a cleared case.</summary>
/// <param name="Days">Days from the end of the case to the recurrence, or to the last visit without one.</param>
/// <param name="Recurrence">True where the tumour came back then.</param>
public sealed record FollowedCase(int Days, bool Recurrence)
{
    /// <summary>
    /// The time from the end of a case that was closed as cleared to the first visit with a recurrence, or else to the last visit.
    /// </summary>
    /// <returns>Null where the case did not end as cleared, or no visit came on or after the day it ended.</returns>
    public static FollowedCase? Of(SurgicalCase surgicalCase)
    {
        if (surgicalCase.Ending is not { Outcome: CaseOutcome.Cleared } ending)
        {
            return null;
        }

        var end = DateOnly.FromDateTime(ending.EndedAt.ToDateTimeOffset().DateTime);
        var visits = surgicalCase.CurrentVisits.Where(visit => visit.VisitedOn >= end).ToList();
        return (visits.Find(visit => visit.Recurrence) ?? visits.LastOrDefault()) is { } decisive
            ? new FollowedCase(decisive.VisitedOn.DayNumber - end.DayNumber, decisive.Recurrence)
            : null;
    }
}
