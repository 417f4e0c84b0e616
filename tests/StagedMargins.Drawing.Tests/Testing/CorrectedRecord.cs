using StagedMargins.Core.Entries;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Drawing.Tests.Testing;

/// <summary>An invented case in which a stage was corrected, another withdrawn, a reading withdrawn, and the end taken back.</summary>
internal static class CorrectedRecord
{
    internal static CaseLog Of()
    {
        var to = Some.Case()
            .Taken([Some.Ellipse()], [Some.Block("A", "12:00", "06:00", "blue", "red", true), Some.Block("B", "06:00", "12:00", "red", "blue", true)])
            .Clear("A").Tumour("B", Some.Edge("07:30", "09:00"));
        to.Taken([Some.Rim("01:15", "03:00")], [Some.Block("A", "01:15", "03:00", "green", "black"), Some.Block("B", "01:15", "02:00", "green", "orange")]).Clear("A");
        to.CorrectStage(
            2,
            new StageCorrectionEntry(null, [Some.Rim("07:15", "09:15")], [Some.Block("A", "07:15", "09:15", "green", "black")], "the map was upside down"),
            Some.Surgeon,
            Some.At(100));
        var counting = to.Case.Stages[0].Blocks[0].CountingReading!;
        to.WithdrawReading(counting.Id, "read from the wrong slide", Some.Surgeon, Some.At(105));
        to.RecordReading(1, "A", new ReadingEntry(ReadingOutcome.Clear, Some.Surgeon, Some.At(107), []), Some.Surgeon, Some.At(107));
        to.Taken([Some.Base("07:00", "09:00", false)], [Some.Block("A", "07:00", "09:00", "red", "white")], "the floor looked suspicious").Clear("A");
        to.SendForPermanentSection(3, "A", Some.At(151), null, Some.Histotech, Some.At(151));
        to.WithdrawStage(3, "entered for another patient", Some.Surgeon, Some.At(155));
        to.RecordReading(2, "A", new ReadingEntry(ReadingOutcome.Unreadable, Some.Surgeon, Some.At(160), [], NoMoreTissue: true), Some.Surgeon, Some.At(160));
        to.End(new EndingEntry(CaseOutcome.StoppedNotCleared, Some.At(170), "no tissue left", "watch the scar", null, null), null, Some.Surgeon, Some.At(171));
        to.Reopen("the patient agreed to a further layer", Some.Surgeon, Some.At(180));
        return to.Taken(
            [Some.Rim("07:00", "09:30", 1), new Piece(PieceKind.Base, Some.Arc("07:00", "09:30"), false, null, null, null, partial: true)],
            [Some.Block("A", "07:00", "09:30") with { PieceNumber = 1 }, Some.Block("B", "07:00", "09:30", "black", "white") with { PieceNumber = 2 }],
            "the floor below is taken with it");
    }
}
