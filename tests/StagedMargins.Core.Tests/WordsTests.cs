using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Tests;

/// <summary>The words that other systems rely on.</summary>
public sealed class WordsTests
{
    [Fact]
    public void Every_word_is_spelled_as_the_interface_fixes_it()
    {
        Words<PieceKind>.All.ShouldBe(["whole", "rim", "base", "rimAndBase"]);
        Words<Margin>.All.ShouldBe(["peripheral", "deep"]);
        Words<ReadingOutcome>.All.ShouldBe(["clear", "tumour", "unreadable"]);
        Words<FindingKind>.All.ShouldBe(["tumour", "perineuralInvasion", "inflammation", "actinicChange", "scar", "other"]);
        Words<AlertCode>.All.ShouldBe(["leftBehind", "siteNotConfirmed", "thinOverlap", "unmapped", "beyondTarget"]);
        Words<CaseState>.All.ShouldBe(["noTissue", "awaitingReadings", "tumourOutstanding", "cleared"]);
        Words<CaseOutcome>.All.ShouldBe(["cleared", "stoppedWithTumour", "continuesLater"]);
        Words<RepairKind>.All.ShouldBe(["secondIntention", "sideToSide", "flap", "graft", "referred"]);
        Words<AreaClass>.All.ShouldBe(["H", "M", "L"]);
        Words<Differentiation>.All.ShouldBe(["well", "moderate", "poor"]);
        Words<BoneInvolvement>.All.ShouldBe(["none", "minorErosion", "grossInvasion", "skullBase"]);
    }

    [Fact]
    public void A_word_is_read_back_exactly_and_nothing_else_is()
    {
        foreach (var kind in Enum.GetValues<PieceKind>())
        {
            Words<PieceKind>.Parse(Words<PieceKind>.Of(kind)).ShouldBe(kind);
        }

        Words<PieceKind>.TryParse("Rim", out _).ShouldBeFalse();
        Words<PieceKind>.TryParse("1", out _).ShouldBeFalse();
        Words<PieceKind>.TryParse(null, out _).ShouldBeFalse();
        Should.Throw<FormatException>(() => Words<PieceKind>.Parse("ring")).Message.ShouldContain("whole, rim, base, rimAndBase");
    }
}
