using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Tests;

/// <summary>The words that other systems rely on.</summary>
public sealed class WordsTests
{
    [Fact]
    public void Every_word_is_spelled_as_the_interface_fixes_it()
    {
        EnumNames<PieceKind>.All.ShouldBe(["whole", "rim", "base", "rimAndBase"]);
        EnumNames<Margin>.All.ShouldBe(["peripheral", "deep"]);
        EnumNames<ReadingOutcome>.All.ShouldBe(["clear", "tumour", "unreadable"]);
        EnumNames<FindingKind>.All.ShouldBe(["tumour", "perineuralInvasion", "notSeen", "undetermined", "inflammation", "actinicChange", "scar", "other"]);
        EnumNames<AlertCode>.All.ShouldBe(["leftBehind", "siteNotConfirmed", "thinOverlap", "unmapped", "piecesOverlap", "inksUnclear", "unusualSize", "timesOutOfOrder", "beyondTarget"]);
        EnumNames<CaseState>.All.ShouldBe(["noTissue", "awaitingReadings", "tumourOutstanding", "cleared"]);
        EnumNames<CaseOutcome>.All.ShouldBe(["cleared", "stoppedWithTumour", "stoppedNotCleared", "notDone", "continuesLater"]);
        EnumNames<ShownMargins>.All.ShouldBe(["both", "peripheral", "deep"]);
        EnumNames<ReviewCode>.All.ShouldBe(["recall", "permanentDiffers", "secondReadDiffers", "recurrence", "upgraded", "positiveWithdrawn"]);
        EnumNames<ReviewDecision>.All.ShouldBe(["recallPatient", "observe", "refer", "noChange"]);
        EnumNames<WaitsFor>.All.ShouldBe(["timeOut", "recut", "reading", "layer", "signature", "answer", "permanent", "ending", "repair"]);
        EnumNames<RepairKind>.All.ShouldBe(["secondIntention", "sideToSide", "flap", "graft", "referred"]);
        EnumNames<AreaClass>.All.ShouldBe(["H", "M", "L"]);
        EnumNames<Differentiation>.All.ShouldBe(["well", "moderate", "poor"]);
        EnumNames<BoneInvolvement>.All.ShouldBe(["none", "minorErosion", "grossInvasion", "skullBase"]);
    }

    [Fact]
    public void A_word_is_read_back_exactly_and_nothing_else_is()
    {
        foreach (var kind in Enum.GetValues<PieceKind>())
        {
            EnumNames<PieceKind>.Parse(EnumNames<PieceKind>.Of(kind)).ShouldBe(kind);
        }

        EnumNames<PieceKind>.TryParse("Rim", out _).ShouldBeFalse();
        EnumNames<PieceKind>.TryParse("1", out _).ShouldBeFalse();
        EnumNames<PieceKind>.TryParse(null, out _).ShouldBeFalse();
        Should.Throw<FormatException>(() => EnumNames<PieceKind>.Parse("ring")).Message.ShouldContain("whole, rim, base, rimAndBase");
    }
}
