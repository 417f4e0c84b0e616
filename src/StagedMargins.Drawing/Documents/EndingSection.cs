using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;

namespace StagedMargins.Drawing.Documents;

/// <summary>How the case ended. An end after which the case was opened again stays, struck through, with who did so, when and why.</summary>
internal static class EndingSection
{
    private static readonly (string, double)[] Columns = [("Earlier end", 0.3), ("Reason and plan", 0.4), ("Recorded", 0.3)];

    internal static void Write(PageFlow flow, RecordPrintout print)
    {
        flow.Section("End of the case", 30);
        Rows.Write(flow, Columns, print.Case.Endings.SelectMany(ending => RowsOf(print, ending)));
        if (print.Case.Ending is { } ending)
        {
            Write(flow, print, ending);
        }
        else if (print.Case.Pause is { ContinuesOn: { } day } pause)
        {
            flow.Write($"{Sentences.PausedUntil(day.InWords())} Recorded {pause.RecordedAt.InWords()} by {print.Who(pause.RecordedById)}.");
            Say(flow, "Reason", pause.Reason);
            Say(flow, "Plan", pause.Plan);
        }
        else
        {
            flow.Write(Sentences.CaseOpen);
        }
    }

    private static IEnumerable<Row> RowsOf(RecordPrintout print, Ending ending) => ending.Reopened is not { } reopened
        ? []
        :
        [
            new Row([ending.InWords(), string.Join(". ", new[] { ending.Reason, ending.Plan }.OfType<string>()), $"{ending.RecordedAt.InWords()}, {print.Who(ending.RecordedById)}"], true),
            new Row(["", Sentences.ReopenedBy(reopened.At.InWords(), print.Who(reopened.ById), reopened.Reason)]),
        ];

    private static void Write(PageFlow flow, RecordPrintout print, Ending ending)
    {
        if (print.Case.ClearedNow == false)
        {
            flow.Loud(Sentences.ClosedAsClear);
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
