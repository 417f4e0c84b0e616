using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;
using StagedMargins.Drawing.Content;

namespace StagedMargins.Drawing.Documents;

/// <summary>One stage: what was taken, what was said then, its map, its blocks, and every reading with what became of it.</summary>
internal static class StageSection
{
    private static readonly (string, double)[] PieceColumns = [("Piece", 0.1), ("What was taken", 0.6), ("Deepest plane", 0.3)];
    private static readonly (string, double)[] TimeColumns = [("Step", 0.2), ("Time", 0.3), ("Recorded", 0.5)];

    internal static void Write(PageFlow flow, RecordPrintout print, Stage stage)
    {
        flow.Section($"Stage {stage.Number} of {print.Case.Stages.Count}");
        flow.Write($"Layer taken {stage.TakenAt.InWords()}; recorded {stage.RecordedAt.InWords()} by {print.Who(stage.RecordedById)}.");
        foreach (var correction in stage.Corrections)
        {
            flow.Write(Sentences.StageCorrectedBy(stage.Number, correction.At.InWords(), print.Who(correction.ById), correction.InWords(), correction.Reason), PageFlow.Strong);
        }

        if (stage.ReasonForUnread is { } reason)
        {
            flow.Write($"Taken before the last stage was fully read. Reason: {reason}");
        }

        if (stage.ReasonForLeftBehind is { } left)
        {
            flow.Write($"Leaves tumour where it is. Reason: {left}");
        }

        foreach (var alert in stage.Alerts)
        {
            Say(flow, alert);
        }

        WritePieces(flow, stage.Pieces);
        if (print.Case.Stages.Count > stage.Number)
        {
            flow.Loud(Sentences.EarlierState(stage.Number, print.Case.Stages.Count));
        }

        flow.Map(print.MapOf(stage.Number, cumulative: false), below =>
        {
            BlockRows.Write(below, print, stage);
            WriteTimes(below, print, stage);
        });
    }

    /// <summary>A stage that was never taken: kept to be read, struck through, with who withdrew it, when and why.</summary>
    internal static void Write(PageFlow flow, RecordPrintout print, WithdrawnStage withdrawn)
    {
        var (stage, withdrawal) = (withdrawn.Stage, withdrawn.Withdrawal);
        flow.Section($"Stage {stage.Number}, withdrawn");
        flow.Write(Sentences.StageWithdrawnBy(stage.Number, withdrawal.At.InWords(), print.Who(withdrawal.ById), withdrawal.Reason), PageFlow.Strong);
        flow.Write($"It had been recorded {stage.RecordedAt.InWords()} by {print.Who(stage.RecordedById)}, as taken {stage.TakenAt.InWords()}.");
        flow.Down(PageFlow.Gap);
        WritePieces(flow, stage.Pieces, isStruck: true);
        BlockRows.WriteWithdrawn(flow, print, stage);
    }

    private static void WriteTimes(PageFlow flow, RecordPrintout print, Stage stage) =>
        Rows.Write(flow, TimeColumns, stage.Times.Select(time => new Row(
            [
                Terms.Of(time.Moment).Capitalised(),
                time.Time.InWords(),
                $"{time.RecordedAt.InWords()} by {print.Who(time.RecordedById)}",
            ],
            stage.Times.Any(later => later.Moment == time.Moment && later.Ordinal > time.Ordinal))));

    private static void WritePieces(PageFlow flow, IReadOnlyList<Piece> pieces)
    {
        if (pieces is [var only])
        {
            flow.Write($"Taken: {MapWords.Of(only)}; deepest plane: {PlaneOf(only)}.");
            flow.Down(PageFlow.Gap);
            return;
        }

        flow.Down(PageFlow.Gap);
        WritePieces(flow, pieces, isStruck: false);
    }

    private static void WritePieces(PageFlow flow, IReadOnlyList<Piece> pieces, bool isStruck) =>
        Rows.Write(flow, PieceColumns, pieces.Select((piece, i) => new Row([$"{i + 1}", MapWords.Of(piece), PlaneOf(piece)], isStruck)));

    private static string PlaneOf(Piece piece) => piece.Plane is { } plane ? Terms.Of(plane) : Terms.NotEntered;

    // As it was said when the layer was recorded; what followed from later readings stands with the margins.
    private static void Say(PageFlow flow, MarginAlert alert)
    {
        var words = $"When recorded: {alert.Message()}";
        if (alert.Code == AlertCode.LeftBehind)
        {
            flow.Loud(words);
        }
        else
        {
            flow.Write(words);
        }
    }
}
