using StagedMargins.Drawing.Content;

namespace StagedMargins.Drawing.Documents;

/// <summary>How the case ended.</summary>
internal static class EndingSection
{
    internal static void Write(PageFlow flow, RecordPrint print)
    {
        flow.Section("End of the case", 30);
        if (print.Case.Ending is not { } ending)
        {
            flow.Write("The case is open.");
            return;
        }

        flow.Write($"{Wording.Of(ending)}; recorded {Wording.Of(ending.RecordedAt)} by {print.Who(ending.RecordedById)}.");
        Say(flow, "Reason", ending.Reason);
        Say(flow, "Plan", ending.Plan);
        Say(flow, "Repair said at the end", ending.Repair is { } repair ? Wording.Of(repair) : "not entered");
    }

    private static void Say(PageFlow flow, string name, string? words)
    {
        if (words is not null)
        {
            flow.Write($"{name}: {words}");
        }
    }
}
