using StagedMargins.Core.Care;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;
using StagedMargins.Drawing.Content;

namespace StagedMargins.Drawing.Documents;

/// <summary>Permanent sections with every result, and second reads that are in. A read that is still blind is not printed.</summary>
internal static class EvidenceSection
{
    private static readonly (string, double)[] SentColumns = [("Stage, block", 0.12), ("Sent", 0.34), ("Result", 0.54)];
    private static readonly (string, double)[] ReadColumns = [("Stage, block", 0.12), ("Second reader", 0.24), ("Second reading", 0.34), ("First reading", 0.3)];

    internal static void Write(PageFlow flow, RecordPrintout print)
    {
        var surgicalCase = print.Case;
        flow.Section("Permanent sections");
        if (surgicalCase.PermanentSections.Count == 0)
        {
            flow.Write("No block was sent.");
        }

        foreach (var sent in surgicalCase.PermanentSectionsThatDiffer())
        {
            flow.Loud(Sentences.PermanentSectionDiffers(sent.StageNumber, sent.BlockLabel));
        }

        Rows.Write(flow, SentColumns, surgicalCase.PermanentSections.SelectMany(sent => RowsOf(print, sent)));
        flow.Section("Second reads");
        Reads(flow, print);
    }

    private static void Reads(PageFlow flow, RecordPrintout print)
    {
        var (answered, blind) = (print.Case.SecondReads.Where(read => read.Answer is not null).ToList(), print.Case.SecondReads.Count(read => read is { Answer: null, IsVoid: false }));
        if (print.Case.SecondReads.Count == 0)
        {
            flow.Write("None requested.");
        }

        if (blind > 0)
        {
            flow.Write($"{blind} still awaited: do not show this printout to the second reader.", PageFlow.Strong);
        }

        Rows.Write(flow, ReadColumns, answered.Select(read => RowOf(print, read)));
    }

    private static IEnumerable<Row> RowsOf(RecordPrintout print, PermanentSection sent)
    {
        var first = new[]
        {
            $"{sent.StageNumber}, {sent.BlockLabel}",
            $"{sent.SentAt.InWords()}, {print.Who(sent.RecordedById)}{(sent.Note is { } note ? $". {note}" : "")}",
        };
        return sent.Results.Count == 0
            ? [new Row([.. first, sent.IsVoid ? Sentences.NoLongerAwaited : "AWAITED"])]
            : sent.Results.Select((result, i) => new Row([.. i == 0 ? first : ["", ""], InWords(print, result)], result != sent.Result));
    }

    private static string InWords(RecordPrintout print, PermanentResult result) =>
        $"{Terms.Of(result.Outcome)}{Places(result.Findings)}, reported {result.ReportedAt.InWords()}{Reporter(result)}; entered {result.RecordedAt.InWords()} by {print.Who(result.RecordedById)}"
        + (result.Note is { } note ? $". {note}" : "") + (result.Reason is { } reason ? $". Correction. Reason: {reason}" : "");

    private static string Places(IReadOnlyList<Finding> findings) => findings.Count == 0 ? "" : $" ({MapWords.Of(findings)})";

    private static string Reporter(PermanentResult result)
    {
        string[] known = [.. new[] { result.ReportedBy, result.Laboratory }.OfType<string>()];
        return known.Length == 0 ? "" : $", {Sentences.ReportedBy(string.Join(", ", known))}";
    }

    // A read keeps its places with the block that it is of; with a block that is gone they are gone too.
    private static IReadOnlyList<Finding> FindingsOf(RecordPrintout print, SecondRead read) => read.IsVoid
        ? []
        : print.Case.StageOf(read.StageNumber).BlockOf(read.BlockLabel).Evidence
            .FirstOrDefault(evidence => evidence.Source == EvidenceSource.SecondRead && evidence.Number == read.Number)?.Findings ?? [];

    private static Row RowOf(RecordPrintout print, SecondRead read)
    {
        var (answer, pair) = (read.Answer!, print.Case.PairOf(read));
        var note = answer.Note is { } said ? $". {said}" : "";
        return new Row(
        [
            $"{read.StageNumber}, {read.BlockLabel}",
            $"{print.Who(read.ReaderId)}, asked by {print.Who(read.AskedById)} {read.AskedAt.InWords()}",
            (answer.Outcome is { } outcome ? Terms.Of(outcome) + Places(FindingsOf(print, read)) : "handed back without a reading") + $", {answer.At.InWords()}{note}",
            pair is null ? "–" : Terms.Of(pair.First) + "; " + (pair.First == pair.Second ? Sentences.ReadersAgree : Sentences.ReadersDisagree.ToUpperInvariant()),
        ]);
    }
}
