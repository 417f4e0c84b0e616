using StagedMargins.Core.Care;
using StagedMargins.Drawing.Content;

namespace StagedMargins.Drawing.Documents;

/// <summary>Repair and visits: every entry; one that a later entry stands in place of is struck through.</summary>
internal static class FollowUpSection
{
    private static readonly (string, double)[] RepairColumns = [("Repair", 0.2), ("Day", 0.14), ("Note", 0.38), ("Entered", 0.28)];
    private static readonly (string, double)[] VisitColumns = [("Visit", 0.07), ("Day", 0.13), ("Recurrence", 0.14), ("Note", 0.38), ("Entered", 0.28)];

    internal static void Write(PageFlow flow, RecordPrint print)
    {
        var surgicalCase = print.Case;
        flow.Section("Repair");
        if (surgicalCase.RepairWarning() is { } caution)
        {
            flow.Loud(caution);
        }

        if (surgicalCase.Repairs.Count == 0)
        {
            flow.Write(surgicalCase.Ending?.Repair is { } said ? $"As said at the end of the case: {Wording.Of(said)}; its day is not entered." : "Not entered.");
        }

        Rows.Write(flow, RepairColumns, surgicalCase.Repairs.Select((repair, i) => Of(print, repair, i == surgicalCase.Repairs.Count - 1)));
        flow.Section("Visits");
        if (surgicalCase.Visits.Count == 0)
        {
            flow.Write("None entered.");
        }

        Rows.Write(flow, VisitColumns, surgicalCase.Visits.Select(visit => Of(print, visit)));
    }

    private static Row Of(RecordPrint print, Repair repair, bool holds) => new(
        [
            Wording.Of(repair.Kind),
            Wording.Of(repair.RepairedOn),
            Noted(repair.Note, repair.Reason is { } reason ? $"Entered again, because: {reason}" : null),
            $"{Wording.Of(repair.RecordedAt)}, {print.Who(repair.RecordedById)}",
        ],
        !holds);

    private static Row Of(RecordPrint print, Visit visit) => new(
        [
            $"{visit.Number}",
            Wording.Of(visit.VisitedOn),
            visit.Recurrence ? "RECURRENCE" : "none found",
            Noted(visit.Note, visit.Corrects is { } corrected ? $"In place of visit {corrected}, because: {visit.Reason}" : null),
            $"{Wording.Of(visit.RecordedAt)}, {print.Who(visit.RecordedById)}",
        ],
        print.Case.Visits.Any(later => later.Corrects == visit.Number));

    private static string Noted(params IEnumerable<string?> notes) => string.Join(". ", notes.OfType<string>());
}
