using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;

namespace StagedMargins.Drawing.Documents;

/// <summary>What is known of the case, and every correction of it with what stood there before.</summary>
internal static class FactsSection
{
    private static readonly (string, double)[] Columns = [("Fact", 0.19), ("As known now", 0.32), ("Fact", 0.21), ("As known now", 0.28)];
    private static readonly (string, double)[] CorrectionColumns = [("Corrected", 0.24), ("Before", 0.38), ("Since", 0.38)];

    internal static void Write(PageFlow flow, RecordPrintout print)
    {
        var surgicalCase = print.Case;
        flow.Section($"Record of case {surgicalCase.CaseNumber}");
        if (print.AsOf is { } asOf)
        {
            flow.Loud(asOf);
        }

        flow.Write($"State of the margins: {Standing.Of(surgicalCase).InWords()}. {surgicalCase switch { { Ending: { } ending } => ending.InWords() + ".", { Pause.ContinuesOn: { } day } => Sentences.PausedUntil(day.InWords()), _ => Sentences.CaseOpen }}", PageFlow.Strong);
        if (surgicalCase.ClearedNow == false)
        {
            flow.Loud(Sentences.ClosedAsClear);
        }

        foreach (var review in surgicalCase.OpenReviews())
        {
            flow.Loud(review.Message());
        }

        if (surgicalCase.PermanentSectionsThatDiffer().Count > 0)
        {
            flow.Loud("A permanent section differs from the reading that counts; see permanent sections.");
        }

        if (surgicalCase.IsSiteChangedSinceConfirmed())
        {
            flow.Loud(Sentences.SiteChangedSinceConfirmed);
        }

        if (Standing.Of(surgicalCase) is { IsClearAsMarked: true } standing)
        {
            flow.Loud($"{standing.InWords().Capitalised()}.");
        }

        if (print.Fault is { } fault)
        {
            flow.Loud($"NOT INTACT: this record has changed since it was written. {fault}");
        }

        flow.Down(PageFlow.Gap);
        WriteFacts(flow, [.. OfCase(print), .. FactRows.Of(surgicalCase.Facts)]);
        foreach (var correction in surgicalCase.FactsCorrections)
        {
            Write(flow, print, correction);
        }
    }

    private static IEnumerable<Fact> OfCase(RecordPrintout print)
    {
        var surgicalCase = print.Case;
        yield return new Fact("Patient reference", surgicalCase.PatientRef);
        yield return new Fact("Surgeon", surgicalCase.SurgeonId is null ? Terms.NotEntered : print.Who(surgicalCase.SurgeonId));
        yield return new Fact("Opened", $"{surgicalCase.OpenedAt.InWords()}, by {print.Who(surgicalCase.OpenedById)}");
        yield return new Fact("12 o'clock points", surgicalCase.TwelveOClock);
    }

    // Two facts to a row, read down the left and then down the right.
    private static void WriteFacts(PageFlow flow, List<Fact> facts)
    {
        var half = (facts.Count + 1) / 2;
        Rows.Write(flow, Columns, facts.Take(half).Select((fact, i) => facts.ElementAtOrDefault(half + i) is { } beside
            ? new Row([fact.Name, fact.Value, beside.Name, beside.Value])
            : new Row([fact.Name, fact.Value])));
    }

    private static void Write(PageFlow flow, RecordPrintout print, FactsCorrection correction)
    {
        flow.Part($"Facts corrected {correction.RecordedAt.InWords()} by {print.Who(correction.RecordedById)}");
        flow.Write($"Because: {correction.Reason}");
        var changed = FactRows.Of(print.Case.FactsBefore(correction.Ordinal))
            .Zip(FactRows.Of(correction.Facts))
            .Where(pair => pair.First != pair.Second)
            .Select(pair => new Row([pair.First.Name, pair.First.Value, pair.Second.Value]))
            .ToList();
        if (changed.Count == 0)
        {
            flow.Write("It changed no facts.");
        }

        flow.Down(PageFlow.Gap / 2);
        Rows.Write(flow, CorrectionColumns, changed);
    }
}
