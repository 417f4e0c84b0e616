using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Tests.Mapping;

public sealed class UnmappedTissueTests
{
    [Fact]
    public void Tissue_that_no_block_covers_is_unread_until_a_block_is_added_and_read()
    {
        var surgicalCase = Gap();
        surgicalCase.Margins().Peripheral.Unread.ShouldBe(Some.Region("11:59-12:00"));
        surgicalCase.Margins().Deep.Unread.ShouldBe(Some.Region("11:59-12:00", "centre"));
        Refusal.OfStep("marginsNotClear", () => surgicalCase.End(CaseOutcome.Cleared)).Message.ShouldContain("11:59 to 12 o'clock");
        surgicalCase.Add(1, Some.Block("B", "11:59-12:00", centre: true));
        surgicalCase.Margins().State.ShouldBe(CaseState.AwaitingReadings);
        surgicalCase.Margins().Alerts.ShouldBeEmpty();
        surgicalCase.Read(1, "B").Margins().State.ShouldBe(CaseState.Cleared);
    }

    [Fact]
    public void The_gap_is_said_when_the_stage_is_recorded_and_the_alert_is_kept()
    {
        var surgicalCase = Gap();
        MarginAlert[] said =
        [
            new(AlertCode.Unmapped, Margin.Peripheral, Some.Region("11:59-12:00")),
            new(AlertCode.Unmapped, Margin.Deep, Some.Region("11:59-12:00", "centre")),
        ];
        surgicalCase.Case.Stages[0].Alerts.ShouldBe(said);
        surgicalCase.Add(1, Some.Block("B", "11:59-12:00", centre: true));
        surgicalCase.Case.Stages[0].Alerts.ShouldBe(said);
    }

    [Fact]
    public void A_block_can_be_added_to_a_former_stage()
    {
        var surgicalCase = Gap().Take([Some.Rim("01:00-02:00")], [Some.Block("A", "01:00-02:00")], "gap found late").Read(2, "A");
        surgicalCase.Margins().State.ShouldBe(CaseState.AwaitingReadings);
        surgicalCase.Add(1, Some.Block("B", "11:59-12:00", centre: true)).Read(1, "B").Margins().State.ShouldBe(CaseState.Cleared);
    }

    [Fact]
    public void A_later_layer_over_a_gap_renews_the_margin()
    {
        var surgicalCase = Gap().Take([Some.RimAndBase("11:30-12:30", centre: true)], [Some.Block("A", "11:30-12:30", centre: true)], "gap taken again");
        surgicalCase.Margins().Peripheral.Unread.ShouldBe(Some.Region("11:30-12:30"));
        surgicalCase.Read(2, "A").Margins().State.ShouldBe(CaseState.Cleared);
    }

    [Fact]
    public void A_rim_over_a_gap_does_not_renew_the_floor()
    {
        var surgicalCase = Gap().Take([Some.Rim("11:30-12:30")], [Some.Block("A", "11:30-12:30")], "gap taken again").Read(2, "A");
        surgicalCase.Margins().Peripheral.Unread.IsEmpty.ShouldBeTrue();
        surgicalCase.Margins().Deep.Unread.ShouldBe(Some.Region("11:59-12:00", "centre"));
    }

    [Fact]
    public void An_added_block_that_is_not_read_makes_its_place_unread() =>
        Gap().Add(1, Some.Block("B", "02:00-03:00")).Margins().Peripheral.Unread.ShouldBe(Some.Region("02:00-03:00", "11:59-12:00"));

    private static CaseLog Gap() => Some.Case().Take(Some.Whole(), Some.Block("A", "12:00-11:59")).Read(1, "A");
}
