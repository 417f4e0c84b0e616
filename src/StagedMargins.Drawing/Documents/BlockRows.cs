using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;
using StagedMargins.Drawing.Content;

namespace StagedMargins.Drawing.Documents;

/// <summary>
/// Every block of a stage with every reading of it. A reading that was amended or withdrawn stays, struck through, with who did so, when
/// and why; so does a block that a correction removed. What was recorded together with the layer, or read and written down at once by one person, is not said twice.
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

        Rows.Write(flow, Columns,
        [
            .. stage.Blocks.SelectMany(block => RowsOf(print, stage, block, stands: true)),
            .. stage.RemovedBlocks.SelectMany(block => RowsOf(print, stage, block, stands: false).Append(new Row(["", "", Sentences.BlockRemoved]))),
        ]);
    }

    /// <summary>The blocks of a stage that was withdrawn, struck through.</summary>
    internal static void WriteWithdrawn(PageFlow flow, RecordPrintout print, Stage stage) =>
        Rows.Write(flow, Columns, stage.Blocks.Concat(stage.RemovedBlocks).SelectMany(block => RowsOf(print, stage, block, stands: false)));

    private static IEnumerable<Row> RowsOf(RecordPrintout print, Stage stage, Block block, bool stands)
    {
        if (block.Readings.Count == 0)
        {
            yield return new Row([block.Label, Place(print, stage, block), stands ? Terms.Unread.ToUpperInvariant() : ""], !stands);
        }

        foreach (var reading in block.Readings)
        {
            // The place of a block is not struck through with a reading of it.
            var former = reading != block.CountingReading;
            var first = reading == block.Readings[0];
            if (first && former)
            {
                yield return new Row([block.Label, Place(print, stage, block)], !stands);
            }

            yield return new Row(
                [
                    block.Label,
                    first && !former ? Place(print, stage, block) : "",
                    ReadingSentence.Of(stage, block, reading) + Along(reading) + (reading.NoMoreTissue ? $" {Sentences.NoMoreTissue.Capitalised()}." : "") + (reading.Note is { } note ? $" Note: {note}" : ""),
                    Reader(print, reading),
                    Signed(print, reading),
                ],
                former);
            if (block.AmendmentOf(reading) is { } amendment)
            {
                yield return new Row(["", "", $"AMENDED: kept, but no longer counts. By {print.Who(amendment.RecordedById)}, {amendment.RecordedAt.InWords()}. Reason: {amendment.Reason}"]);
            }

            if (reading.Withdrawal is { } withdrawal)
            {
                yield return new Row(["", "", Sentences.ReadingWithdrawnBy(print.Who(withdrawal.ById), withdrawal.At.InWords(), withdrawal.Reason)]);
            }
        }

        if (stands && block is { Readings.Count: > 0, CountingReading: null })
        {
            yield return new Row([block.Label, "", Terms.Unread.ToUpperInvariant()]);
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
        var replaced = stage.BlocksReplacing(block) is { Length: > 0 } by ? $"; {Sentences.ReplacedBy(by)}" : "";
        var later = block.RecordedAt != stage.RecordedAt || block.RecordedById != stage.RecordedById
            ? $"; added {block.RecordedAt.InWords()} by {print.Who(block.RecordedById)}"
            : "";
        return $"{block.Region().InLabel()}; {inks}{piece}{shown}{mirrored}{cassette}{replaces}{replaced}{later}";
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
