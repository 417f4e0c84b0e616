using StagedMargins.Core.Care;
using StagedMargins.Core.Wording;

namespace StagedMargins.Drawing.Documents;

/// <summary>Repair and visits: every entry; one that a later entry stands in place of is struck through.</summary>
internal static class FollowUpSection
{
    private static readonly (string, double)[] RepairColumns = [("Repair", 0.2), ("Day", 0.14), ("Note", 0.38), ("Entered", 0.28)];
    private static readonly (string, double)[] VisitColumns = [("Visit", 0.07), ("Day", 0.13), ("Recurrence", 0.14), ("Note", 0.38), ("Entered", 0.28)];

    internal static void Write(PageFlow flow, RecordPrintout print)
    {
        var surgicalCase = print.Case;
        flow.Section("Repair");
        if (surgicalCase.RepairWarning() is { } warning)
        {
            flow.Loud(warning);
        }

        if (surgicalCase.Repairs.Count == 0)
        {
            flow.Write(surgicalCase.Ending?.Repair is { } said ? $"As entered at the end of the case: {Terms.Of(said)}; its day was not entered." : "Not entered.");
        }

        Rows.Write(flow, RepairColumns, surgicalCase.Repairs.Select((repair, i) => RowOf(print, repair, i == surgicalCase.Repairs.Count - 1)));
        flow.Section("Visits");
        if (surgicalCase.Visits.Count == 0)
        {
            flow.Write("None entered.");
        }

        Rows.Write(flow, VisitColumns, surgicalCase.Visits.Select(visit => RowOf(print, visit)));
    }

    private static Row RowOf(RecordPrintout print, Repair repair, bool holds) => new(
        [
            Terms.Of(repair.Kind),
            repair.RepairedOn.InWords(),
            Noted(repair.Note, repair.Reason is { } reason ? $"Correction. Reason: {reason}" : null),
            $"{repair.RecordedAt.InWords()}, {print.Who(repair.RecordedById)}",
        ],
        !holds);

    private static Row RowOf(RecordPrintout print, Visit visit) => new(
        [
            $"{visit.Number}",
            visit.VisitedOn.InWords(),
            visit.Recurrence ? "RECURRENCE" : "none found",
            Noted(visit.Note, visit.Corrects is { } corrected ? $"Replaces visit {corrected}. Reason: {visit.Reason}" : null),
            $"{visit.RecordedAt.InWords()}, {print.Who(visit.RecordedById)}",
        ],
        print.Case.Visits.Any(later => later.Corrects == visit.Number));

    private static string Noted(params IEnumerable<string?> notes) => string.Join(". ", notes.OfType<string>());
}
