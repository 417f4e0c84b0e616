using StagedMargins.Drawing.Documents;

namespace StagedMargins.Drawing.Tests.Testing;

/// <summary>Documents, laid out or written until the test is stopped.</summary>
internal static class Paged
{
    internal static IReadOnlyList<DocumentPage> Record(RecordPrintout print, Paper paper) => RecordDocument.LayOut(print, paper, TestContext.Current.CancellationToken);

    internal static byte[] RecordPdf(RecordPrintout print, Paper paper) => RecordDocument.ToPdf(print, paper, TestContext.Current.CancellationToken);

    internal static IReadOnlyList<DocumentPage> Labels(IReadOnlyList<BlockLabel> labels, Paper paper, int skip) =>
        LabelSheet.LayOut(labels, paper, skip, Some.At(0), TestContext.Current.CancellationToken);
}
