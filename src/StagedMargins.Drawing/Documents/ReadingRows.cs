using StagedMargins.Core.Mapping;
using StagedMargins.Drawing.Content;

namespace StagedMargins.Drawing.Documents;

/// <summary>Every reading of a stage. One that was amended stays, struck through, with who amended it, when and why.</summary>
internal static class ReadingRows
{
    private static readonly (string, double)[] Columns = [("Block", 0.08), ("Reading", 0.5), ("Reader, time", 0.22), ("Signed", 0.2)];

    internal static void Write(PageFlow flow, RecordPrint print, Stage stage)
    {
        flow.Part($"Readings of stage {stage.Number}");
        if (stage.Blocks.Count == 0)
        {
            flow.Write("No block is recorded: nothing of this layer was seen.", PageFlow.Strong);
        }

        Rows.Write(flow, Columns, stage.Blocks.SelectMany(block => Of(print, stage, block)));
    }

    private static IEnumerable<Row> Of(RecordPrint print, Stage stage, Block block)
    {
        if (block.Readings.Count == 0)
        {
            yield return new Row([block.Label, "NOT READ", "", ""]);
        }

        foreach (var reading in block.Readings)
        {
            yield return new Row(
                [
                    block.Label,
                    ReadingSentence.Of(stage, block, reading) + Along(reading) + (reading.Note is { } note ? $" Note: {note}" : ""),
                    $"{print.Who(reading.ReaderId)}, {Wording.Of(reading.ReadAt)}; recorded {Wording.Of(reading.RecordedAt)} by {print.Who(reading.RecordedById)}",
                    Signed(print, reading),
                ],
                reading != block.CountingReading);
            if (block.AmendmentOf(reading) is { } amendment)
            {
                yield return new Row(["", $"AMENDED, counts no more. By {print.Who(amendment.RecordedById)}, {Wording.Of(amendment.RecordedAt)}, because: {amendment.Reason}", "", ""]);
            }
        }
    }

    private static string Along(Reading reading) => string.Concat(reading.Findings
        .Where(finding => finding.Along is not null)
        .Select(finding => $" Given as {finding.Along}."));

    private static string Signed(RecordPrint print, Reading reading) => reading switch
    {
        { Countersignature: { } signature } => $"countersigned by {print.Who(signature.ById)}, {Wording.Of(signature.At)}",
        { SignedById: null } => "NOT YET SIGNED by the reader",
        _ => $"by {print.Who(reading.SignedById)} on recording",
    };
}
