namespace StagedMargins.Drawing.Documents;

/// <summary>The record of a case as pages of paper.</summary>
public static class RecordDocument
{
    /// <summary>Lays the record out: facts, site, risk, every stage with its map, where the margins stand, what was done around the loop, how it ended, and the check of its history.</summary>
    /// <param name="print">What is printed.</param>
    /// <param name="paper">On which paper.</param>
    /// <param name="cancel">Stops a large record between two stages or pages, for example where a request has run out of time.</param>
    public static IReadOnlyList<DocumentPage> LayOut(RecordPrintout print, Paper paper, CancellationToken cancel = default)
    {
        var frame = new PageFrame(print, paper);
        var flow = frame.Flow();
        FactsSection.Write(flow, print);
        SiteSection.Write(flow, print);
        RiskSection.Write(flow, print);
        foreach (var stage in print.Case.Stages)
        {
            cancel.ThrowIfCancellationRequested();
            flow.NewPage();
            StageSection.Write(flow, print, stage);
        }

        foreach (var withdrawn in print.Case.WithdrawnStages)
        {
            StageSection.Write(flow, print, withdrawn);
        }

        MarginsSection.Write(flow, print);
        TimesSection.Write(flow, print);
        AnaestheticSection.Write(flow, print);
        EvidenceSection.Write(flow, print);
        ReviewsSection.Write(flow, print);
        FollowUpSection.Write(flow, print);
        EndingSection.Write(flow, print);
        HistorySection.Write(flow, print);
        return frame.Around(flow.Pages);
    }

    /// <summary>Writes the record as PDF.</summary>
    /// <inheritdoc cref="LayOut"/>
    public static byte[] ToPdf(RecordPrintout print, Paper paper, CancellationToken cancel = default) =>
        PdfFile.Write(LayOut(print, paper, cancel), paper, $"Record of case {print.Case.CaseNumber}", print.PrintedAt, cancel);
}
