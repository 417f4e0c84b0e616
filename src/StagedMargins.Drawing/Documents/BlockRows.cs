using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;

namespace StagedMargins.Drawing.Documents;

/// <summary>
/// Every block of a stage with every reading of it. A reading that was amended stays, struck through, with who amended it, when and
/// why. What was recorded together with the layer, or read and written down at once by one person, is not said twice.
/// </summary>
internal static class BlockRows
{
    private static readonly (string, double)[] Columns = [("Block", 0.07), ("Covers; inks", 0.2), ("Reading", 0.33), ("Reader, time", 0.22), ("Signed", 0.18)];

    internal static void Write(PageFlow flow, RecordPrintout print, Stage stage)
    {
        flow.Part($"Blocks and readings of stage {stage.Number}");
        if (stage.Blocks.Count == 0)
        {
            flow.Write("No block has been recorded: the margins of this layer are unread.", PageFlow.Strong);
        }

        Rows.Write(flow, Columns, stage.Blocks.SelectMany(block => RowsOf(print, stage, block)));
    }

    private static IEnumerable<Row> RowsOf(RecordPrintout print, Stage stage, Block block)
    {
        if (block.Readings.Count == 0)
        {
            yield return new Row([block.Label, Place(print, stage, block), Terms.Unread.ToUpperInvariant()]);
        }

        foreach (var reading in block.Readings)
        {
            // The place of a block is not struck through with a reading of it.
            var amended = reading != block.CountingReading;
            var first = reading.Ordinal == 1;
            if (first && amended)
            {
                yield return new Row([block.Label, Place(print, stage, block)]);
            }

            yield return new Row(
                [
                    block.Label,
                    first && !amended ? Place(print, stage, block) : "",
                    ReadingSentence.Of(stage, block, reading) + Along(reading) + (reading.Note is { } note ? $" Note: {note}" : ""),
                    Reader(print, reading),
                    Signed(print, reading),
                ],
                amended);
            if (block.AmendmentOf(reading) is { } amendment)
            {
                yield return new Row(["", "", $"AMENDED: kept, but no longer counts. By {print.Who(amendment.RecordedById)}, {amendment.RecordedAt.InWords()}. Reason: {amendment.Reason}"]);
            }
        }
    }

    private static string Place(RecordPrintout print, Stage stage, Block block)
    {
        var inks = (block.FromInk, block.ToInk) is (null, null) ? "no ink entered" : $"{block.FromInk ?? "none"} / {block.ToInk ?? "none"}";
        var piece = stage.Pieces.Count > 1 ? $"; piece {block.PieceNumber}" : "";
        var shown = block.Shows == ShownMargins.Both ? "" : $"; shows the {Terms.Of(block.Shows)}";
        var mirrored = block.Mirrored ? "; mirrored" : "";
        var cassette = block.Cassette is { } label ? $"; cassette {label}" : "";
        var replaces = block.Replaces.Count > 0 ? $"; replaces {string.Join(", ", block.Replaces)}" : "";
        var later = block.RecordedAt != stage.RecordedAt || block.RecordedById != stage.RecordedById
            ? $"; added {block.RecordedAt.InWords()} by {print.Who(block.RecordedById)}"
            : "";
        return $"{block.Region().InLabel()}; {inks}{piece}{shown}{mirrored}{cassette}{replaces}{later}";
    }

    private static string Reader(RecordPrintout print, Reading reading)
    {
        var (read, recorded) = ($"{print.Who(reading.ReaderId)}, {reading.ReadAt.InWords()}", $"{print.Who(reading.RecordedById)}, {reading.RecordedAt.InWords()}");
        return read == recorded ? read : $"{read}; recorded by {recorded}";
    }

    private static string Along(Reading reading) => string.Concat(reading.Findings
        .Where(finding => finding.Along is not null)
        .Select(finding => $" Given as {finding.Along}."));

    private static string Signed(RecordPrintout print, Reading reading) => reading switch
    {
        { Countersignature: { } signature } => $"countersigned by {print.Who(signature.ById)}, {signature.At.InWords()}",
        { SignedById: null } => $"{Terms.NotSigned.ToUpperInvariant()} by the reader",
        _ => "by the reader, on recording",
    };
}
