using StagedMargins.Core;
using StagedMargins.Core.Care;
using StagedMargins.Core.Mapping;
using StagedMargins.Drawing.Content;

namespace StagedMargins.Drawing.Documents;

/// <summary>Permanent sections with every result, and second reads that are in. A read that is still blind is not printed.</summary>
internal static class SecondLookSection
{
    private static readonly (string, double)[] SentColumns = [("Stage, block", 0.12), ("Sent", 0.34), ("Result", 0.54)];
    private static readonly (string, double)[] ReadColumns = [("Stage, block", 0.12), ("Second reader", 0.24), ("Second reading", 0.34), ("First reading", 0.3)];

    internal static void Write(PageFlow flow, RecordPrint print)
    {
        var surgicalCase = print.Case;
        flow.Section("Permanent sections");
        if (surgicalCase.PermanentSections.Count == 0)
        {
            flow.Write("No block was sent.");
        }

        foreach (var sent in surgicalCase.PermanentSectionsThatDiffer())
        {
            flow.Loud($"Stage {sent.StageNumber} block {sent.BlockLabel}: the permanent section is not what the reading that counts says. Look again, and amend the reading where it is wrong.");
        }

        Rows.Write(flow, SentColumns, surgicalCase.PermanentSections.SelectMany(sent => Of(print, sent)));
        flow.Section("Second reads");
        Reads(flow, print);
    }

    private static void Reads(PageFlow flow, RecordPrint print)
    {
        var (answered, blind) = (print.Case.SecondReads.Where(read => read.Answer is not null).ToList(), print.Case.SecondReads.Count(read => read.Answer is null));
        if (print.Case.SecondReads.Count == 0)
        {
            flow.Write("None asked for.");
        }

        if (blind > 0)
        {
            flow.Write($"{blind} still awaited, and blind until then: keep this print from who is to read.", PageFlow.Strong);
        }

        Rows.Write(flow, ReadColumns, answered.Select(read => Of(print, read)));
    }

    private static IEnumerable<Row> Of(RecordPrint print, PermanentSection sent)
    {
        var first = new[]
        {
            $"{sent.StageNumber}, {sent.BlockLabel}",
            $"{Wording.Of(sent.SentAt)}, {print.Who(sent.RecordedById)}{(sent.Note is { } note ? $". {note}" : "")}",
        };
        return sent.Results.Count == 0
            ? [new Row([.. first, "AWAITED"])]
            : sent.Results.Select((result, i) => new Row([.. i == 0 ? first : ["", ""], Of(print, result)], result != sent.Result));
    }

    private static string Of(RecordPrint print, PermanentResult result) =>
        $"{EnumNames<ReadingOutcome>.Of(result.Outcome)}, reported {Wording.Of(result.ReportedAt)}; entered {Wording.Of(result.RecordedAt)} by {print.Who(result.RecordedById)}"
        + (result.Note is { } note ? $". {note}" : "") + (result.Reason is { } reason ? $". Entered again, because: {reason}" : "");

    private static Row Of(RecordPrint print, SecondRead read)
    {
        var (answer, pair) = (read.Answer!, print.Case.PairOf(read));
        var note = answer.Note is { } said ? $". {said}" : "";
        return new Row(
        [
            $"{read.StageNumber}, {read.BlockLabel}",
            $"{print.Who(read.ReaderId)}, asked by {print.Who(read.AskedById)} {Wording.Of(read.AskedAt)}",
            (answer.Outcome is { } outcome ? EnumNames<ReadingOutcome>.Of(outcome) : "given back unread") + $", {Wording.Of(answer.At)}{note}",
            pair is null ? "–" : EnumNames<ReadingOutcome>.Of(pair.First) + (pair.First == pair.Second ? ", they agree" : ". THEY DO NOT AGREE: look at the slide together."),
        ]);
    }
}
