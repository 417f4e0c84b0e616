using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Tests.Mapping;

public sealed class RimFloorTests
{
    [Fact]
    public void Tumour_on_the_floor_of_a_rim_is_outstanding_on_the_deep_margin()
    {
        var margins = RimWithFloorTumour().Margins();
        margins.Deep.Outstanding.ShouldBe(Some.Region("08:00-08:30"));
        margins.Target(Margin.Deep).ShouldBe(Some.Region("07:45-08:45"));
        margins.Deep.Unread.IsEmpty.ShouldBeTrue();
        margins.Peripheral.Outstanding.IsEmpty.ShouldBeTrue();
        margins.State.ShouldBe(CaseState.TumourOutstanding);
    }

    [Fact]
    public void A_further_rim_leaves_it_behind_and_a_base_takes_it()
    {
        var rim = RimWithFloorTumour().Take(Some.Rim("07:00-09:00"), Some.Block("A", "07:00-09:00"));
        rim.Case.Stages[2].Alerts.ShouldContain(new MarginAlert(AlertCode.LeftBehind, Margin.Deep, Some.Region("08:00-08:30")));
        rim.Read(3, "A").Margins().Deep.Outstanding.ShouldBe(Some.Region("08:00-08:30"));
        var floor = RimWithFloorTumour().Take(Some.Base("07:45-08:45"), Some.Block("A", "07:45-08:45"));
        floor.Case.Stages[2].Alerts.ShouldBeEmpty();
        floor.Read(3, "A").Margins().State.ShouldBe(CaseState.Cleared);
    }

    [Fact]
    public void The_narrow_floor_of_a_rim_must_be_seen()
    {
        var surgicalCase = Cleared().Take(Some.Rim("07:00-09:00"));
        surgicalCase.Margins().Deep.Unread.ShouldBe(Some.Region("07:00-09:00"));
        surgicalCase.Add(2, Some.Block("A", "07:00-09:00")).Read(2, "A").Margins().State.ShouldBe(CaseState.Cleared);
    }

    [Fact]
    public void A_further_rim_outside_it_does_not_take_a_rims_unseen_floor()
    {
        var surgicalCase = Cleared().Take(Some.Rim("07:00-09:00"));
        surgicalCase.Take([Some.Rim("07:00-09:00")], [Some.Block("A", "07:00-09:00")], "bleeding").Read(3, "A");
        surgicalCase.Margins().Peripheral.Unread.IsEmpty.ShouldBeTrue();
        surgicalCase.Margins().Deep.Unread.ShouldBe(Some.Region("07:00-09:00"));
        Refusal.OfStep("marginsNotClear", () => surgicalCase.End(CaseOutcome.Cleared));
    }

    [Fact]
    public void Tumour_found_in_the_stage_that_takes_the_floor_stays_outstanding()
    {
        var surgicalCase = Cleared().Take([Some.Rim("07:00-09:00"), Some.Base("07:00-09:00")], [Some.Block("A", "07:00-09:00", piece: 1), Some.Block("B", "07:00-09:00", piece: 2)]);
        surgicalCase.Read(2, "A", Some.TumourAt("08:00-08:30", Margin.Deep)).Read(2, "B").Margins().Deep.Outstanding.ShouldBe(Some.Region("08:00-08:30"));
    }

    [Fact]
    public void Inflammation_is_a_caution_until_a_later_layer_takes_its_place()
    {
        var surgicalCase = Some.Case().Take(Some.Whole(), Some.Block("A", "12:00-12:00", centre: true)).Read(
            1,
            "A",
            Some.Found(FindingKind.Inflammation, Margin.Peripheral, "07:00-09:00"),
            Some.Found(FindingKind.Inflammation, Margin.Deep, "01:00-02:00", centre: true));
        surgicalCase.Margins().State.ShouldBe(CaseState.Cleared);
        surgicalCase.Margins().Peripheral.Inflammation.ShouldBe(Some.Region("07:00-09:00"));
        surgicalCase.Margins().Deep.Inflammation.ShouldBe(Some.Region("01:00-02:00", "centre"));
        surgicalCase.Margins().Target(Margin.Peripheral).IsEmpty.ShouldBeTrue();
        surgicalCase.Take([Some.Rim("08:00-10:00"), Some.Base(null, centre: true)], []);
        surgicalCase.Margins().Peripheral.Inflammation.ShouldBe(Some.Region("07:00-08:00"));
        surgicalCase.Margins().Deep.Inflammation.ShouldBe(Some.Region("01:00-02:00"));
    }

    [Fact]
    public void A_caution_goes_with_the_reading_that_is_amended()
    {
        var surgicalCase = Some.Case().Take(Some.Whole(), Some.Block("A", "12:00-12:00", centre: true))
            .Read(1, "A", Some.Found(FindingKind.Inflammation, Margin.Peripheral, "07:00-09:00"));
        surgicalCase.Amend(1, "A").Margins().Peripheral.Inflammation.IsEmpty.ShouldBeTrue();
    }

    private static CaseLog Cleared() => Some.Case().Take(Some.Whole(), Some.Block("A", "12:00-12:00", centre: true)).Read(1, "A");

    private static CaseLog RimWithFloorTumour() =>
        Cleared().Take(Some.Rim("07:00-09:00"), Some.Block("A", "07:00-09:00")).Read(2, "A", Some.TumourAt("08:00-08:30", Margin.Deep));
}
