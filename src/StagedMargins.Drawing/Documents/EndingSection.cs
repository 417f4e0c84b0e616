using StagedMargins.Core.Wording;

namespace StagedMargins.Drawing.Documents;

/// <summary>How the case ended.</summary>
internal static class EndingSection
{
    internal static void Write(PageFlow flow, RecordPrintout print)
    {
        flow.Section("End of the case", 30);
        if (print.Case.Ending is not { } ending)
        {
            flow.Write(Sentences.CaseOpen);
            return;
        }

        flow.Write($"{ending.InWords()}; recorded {ending.RecordedAt.InWords()} by {print.Who(ending.RecordedById)}.");
        Say(flow, "Reason", ending.Reason);
        Say(flow, "Plan", ending.Plan);
        Say(flow, "Repair, as entered at the end", ending.Repair is { } repair ? Terms.Of(repair) : Terms.NotEntered);
    }

    private static void Say(PageFlow flow, string name, string? words)
    {
        if (words is not null)
        {
            flow.Write($"{name}: {words}");
        }
    }
}
