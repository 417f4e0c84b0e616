namespace StagedMargins.Drawing.Documents;

/// <summary>Whether the record is as it was written.</summary>
internal static class HistorySection
{
    internal static void Write(PageFlow flow, RecordPrintout print)
    {
        flow.Section("Check of the record", 30);
        if (print.Fault is { } fault)
        {
            flow.Loud($"NOT INTACT: this record has changed since it was written. {fault}");
        }
        else
        {
            flow.Write($"History intact: {print.Entries} {(print.Entries == 1 ? "entry" : "entries")}.");
        }

        if (print.LastSeal is { } seal)
        {
            flow.Write($"Last entry in the ledger, with its seal: {seal}");
        }

        foreach (var sentence in print.Origin)
        {
            flow.Loud(sentence);
        }

        if (flow.LacksLetters)
        {
            flow.Loud("Some letters of this record can't be printed here and appear as empty boxes; read them in the case.");
        }
    }
}
