using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Tests.Mapping;

public sealed class NextLayerTests
{
    [Fact]
    public void A_layer_that_leaves_unread_tissue_needs_a_reason_which_is_kept()
    {
        var surgicalCase = Halves().Read(1, "A");
        var refusal = Refusal.OfStep("lastStageUnread", () => surgicalCase.Take(Some.Rim("07:30-09:00")));
        refusal.Places.ShouldBe([new BlockingRegion("unread", Margin.Peripheral, Some.Region("06:00-07:30", "09:00-12:00")), new BlockingRegion("unread", Margin.Deep, Some.Region("06:00-12:00", "centre"))]);
        refusal.Message.ShouldContain("6 to 7:30");
        surgicalCase.Case.Stages.Count.ShouldBe(1);
        Refusal.OfStep("lastStageUnread", () => surgicalCase.Take([Some.Rim("07:30-09:00")], [], "  "));
        surgicalCase.Take([Some.Rim("07:30-09:00")], [], "tumour seen by eye").Case.StageOf(2).ReasonForUnread.ShouldBe("tumour seen by eye");
    }

    [Fact]
    public void An_unreadable_block_is_a_missing_reading() =>
        Refusal.OfStep("lastStageUnread", () => Halves().Read(1, "A").Unreadable(1, "B", Some.TumourAt("07:30-09:00")).Take(Some.Rim("07:30-09:00")));

    [Fact]
    public void A_gap_in_the_blocks_is_a_missing_reading() => Refusal.OfStep(
        "lastStageUnread",
        () => Some.Case().Take(Some.Whole(), Some.Block("A", "12:00-12:00")).Read(1, "A").Take(Some.Rim("07:30-09:00")))
        .Places.ShouldBe([new BlockingRegion("unread", Margin.Deep, Some.Region("centre"))]);

    [Fact]
    public void Tissue_of_an_earlier_stage_that_stays_unread_is_asked_about_too()
    {
        var surgicalCase = Halves().Take([Some.Rim("07:30-09:00")], [Some.Block("A", "07:30-09:00")], "bleeding").Read(2, "A");
        Refusal.OfStep("lastStageUnread", () => surgicalCase.Take(Some.Rim("07:30-09:00")))
            .Places.ShouldBe([new BlockingRegion("unread", Margin.Peripheral, Some.Region("09:00-07:30")), new BlockingRegion("unread", Margin.Deep, MarginRegion.WholeDeep)]);
    }

    [Fact]
    public void A_layer_that_takes_all_unread_tissue_needs_no_reason() =>
        Halves().Take(Some.RimAndBase("12:00-12:00", centre: true)).Case.StageOf(2).ReasonForUnread.ShouldBeNull();

    [Fact]
    public void A_reason_is_not_needed_when_all_is_read() =>
        Halves().Read(1, "A").Read(1, "B").Take(Some.Rim("07:30-09:00")).Case.StageOf(2).ReasonForUnread.ShouldBeNull();

    [Fact]
    public void A_rehearsal_shows_what_the_layer_would_leave_behind_and_writes_nothing()
    {
        var surgicalCase = Halves().Read(1, "A").Read(1, "B", Some.TumourAt("07:30-09:00"));
        var (version, margins) = (surgicalCase.Case.Version, surgicalCase.Margins());
        var rehearsal = surgicalCase.Case.Preview(Layer(Some.Rim("07:45-09:15")), Some.Overlap, Some.At(60));
        rehearsal.Margins.AfterStage.ShouldBe(2);
        rehearsal.Stage.Number.ShouldBe(2);
        rehearsal.Margins.Alerts.ShouldContain(new MarginAlert(AlertCode.LeftBehind, Margin.Peripheral, Some.Region("07:30-07:45")));
        rehearsal.Margins.Peripheral.Outstanding.ShouldBe(Some.Region("07:30-07:45"));
        rehearsal.LeftUnread.ShouldBeEmpty();
        (surgicalCase.Case.Stages.Count, surgicalCase.Case.Version).ShouldBe((1, version));
        surgicalCase.Margins().Peripheral.ShouldBe(margins.Peripheral);
        surgicalCase.Take(Some.Rim("07:45-09:15")).Case.Stages[1].Alerts.ShouldBe(rehearsal.Margins.Alerts);
    }

    [Fact]
    public void A_rehearsal_needs_no_reason_and_says_what_is_unread() =>
        Halves().Read(1, "A").Case.Preview(Layer(Some.Rim("07:45-09:15")), Some.Overlap, Some.At(60))
            .LeftUnread.Select(place => place.Region).ShouldBe([Some.Region("06:00-07:45", "09:15-12:00"), Some.Region("06:00-12:00", "centre")]);

    [Fact]
    public void A_rehearsal_refuses_what_recording_refuses()
    {
        Refusal.OfEntry("pieces", () => Halves().Case.Preview(Layer(Some.Whole()), Some.Overlap, Some.At(60)));
        Refusal.OfStep("caseEnded", () => Halves().End(CaseOutcome.StoppedNotCleared).Case.Preview(Layer(Some.Rim("07:45-09:15")), Some.Overlap, Some.At(60)));
    }

    [Fact]
    public void The_first_layer_can_be_rehearsed() =>
        Some.Case().Case.Preview(Layer(Some.Whole()), Some.Overlap, Some.At(60)).Margins.State.ShouldBe(CaseState.AwaitingReadings);

    private static Layer Layer(Piece piece) => new(Some.At(59), [piece], []);

    private static CaseLog Halves() =>
        Some.Case().Take(Some.Whole(), Some.Block("A", "12:00-06:00", centre: true), Some.Block("B", "06:00-12:00", centre: true));
}
