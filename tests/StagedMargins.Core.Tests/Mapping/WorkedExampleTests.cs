using StagedMargins.Core.Mapping;
using StagedMargins.Core.Shape;

namespace StagedMargins.Core.Tests.Mapping;

/// <summary>One case from the first layer to clear margins, every figure worked by hand, one test for each step.</summary>
public sealed class WorkedExampleTests
{
    [Fact]
    public void Step_1_before_any_reading_everything_is_unread()
    {
        var margins = AfterStage1Taken().Margins();
        margins.AfterStage.ShouldBe(1);
        margins.Peripheral.Unread.ShouldBe(MarginRegion.WholePeripheral);
        margins.Deep.Unread.ShouldBe(MarginRegion.WholeDeep);
        margins.Peripheral.Outstanding.IsEmpty.ShouldBeTrue();
        margins.Deep.Outstanding.IsEmpty.ShouldBeTrue();
        margins.State.ShouldBe(CaseState.AwaitingReadings);
        margins.Alerts.ShouldBeEmpty();
        Refusal.OfStep("marginsNotClear", () => AfterStage1Taken().End(CaseOutcome.Cleared))
            .Places.ShouldBe([new BlockingRegion("unread", Margin.Peripheral, MarginRegion.WholePeripheral), new BlockingRegion("unread", Margin.Deep, MarginRegion.WholeDeep)]);
    }

    [Fact]
    public void Step_2_tumour_is_outstanding_where_it_was_found_and_the_target_is_wider()
    {
        var margins = AfterStage1Read().Margins();
        margins.Peripheral.Outstanding.ShouldBe(Some.Region("07:30-09:00"));
        margins.Peripheral.Outstanding.Arcs.Minutes.ShouldBe(90);
        (margins.Peripheral.Outstanding.Arcs.Minutes * 0.5).ShouldBe(45.0);
        margins.Target(Margin.Peripheral).ShouldBe(Some.Region("07:15-09:15"));
        margins.Peripheral.Unread.IsEmpty.ShouldBeTrue();
        (margins.Deep.Outstanding.IsEmpty, margins.Deep.Unread.IsEmpty).ShouldBe((true, true));
        margins.State.ShouldBe(CaseState.TumourOutstanding);
    }

    [Fact]
    public void Step_3_a_layer_that_starts_late_leaves_tumour_behind()
    {
        var surgicalCase = AfterStage1Read().Take(Some.Rim("07:45-09:15"), Some.Block("A", "07:45-09:15"));
        surgicalCase.Case.Stages[1].Alerts.ShouldBe([new MarginAlert(AlertCode.LeftBehind, Margin.Peripheral, Some.Region("07:30-07:45"))]);
        surgicalCase.Case.Stages[1].Alerts[0].Message().ShouldContain("left behind");
        surgicalCase.Case.Stages[1].Alerts[0].Message().ShouldContain("7:30 to 7:45 o'clock");
        surgicalCase.Margins().Peripheral.Unread.ShouldBe(Some.Region("07:45-09:15"));
        surgicalCase.Read(2, "A");
        surgicalCase.Margins().Peripheral.Outstanding.ShouldBe(Some.Region("07:30-07:45"));
        surgicalCase.Margins().Target(Margin.Peripheral).ShouldBe(Some.Region("07:15-08:00"));
        surgicalCase.Margins().Peripheral.Unread.IsEmpty.ShouldBeTrue();
        surgicalCase.Margins().State.ShouldBe(CaseState.TumourOutstanding);
    }

    [Fact]
    public void Step_3_closing_as_cleared_is_refused_and_names_the_arc()
    {
        var refusal = Refusal.OfStep("marginsNotClear", () => AfterStage2Read().End(CaseOutcome.Cleared));
        refusal.Places.ShouldBe([new BlockingRegion("outstanding", Margin.Peripheral, Some.Region("07:30-07:45"))]);
        refusal.Message.ShouldContain("7:30 to 7:45 o'clock");
    }

    [Fact]
    public void Step_4_the_rest_is_taken_and_the_case_is_clear()
    {
        var surgicalCase = AfterStage2Read().Take(Some.Rim("07:15-08:00"), Some.Block("A", "07:15-08:00"));
        surgicalCase.Case.Stages[2].Alerts.ShouldBeEmpty();
        surgicalCase.Margins().State.ShouldBe(CaseState.AwaitingReadings);
        surgicalCase.Read(3, "A");
        CaseMargins.Both.ShouldAllBe(margin => surgicalCase.Margins()[margin].Outstanding.IsEmpty && surgicalCase.Margins()[margin].Unread.IsEmpty);
        surgicalCase.Margins().State.ShouldBe(CaseState.Cleared);
        surgicalCase.End(CaseOutcome.Cleared).Case.Ending!.Outcome.ShouldBe(CaseOutcome.Cleared);
    }

    [Fact]
    public void The_state_after_each_stage_can_be_looked_up_later()
    {
        var surgicalCase = AfterStage2Read().Take(Some.Rim("07:15-08:00"), Some.Block("A", "07:15-08:00")).Read(3, "A");
        surgicalCase.Case.MarginsAfter(0, Some.Overlap).State.ShouldBe(CaseState.NoTissue);
        surgicalCase.Case.MarginsAfter(1, Some.Overlap).Peripheral.Outstanding.ShouldBe(Some.Region("07:30-09:00"));
        surgicalCase.Case.MarginsAfter(2, Some.Overlap).Target(Margin.Peripheral).ShouldBe(Some.Region("07:15-08:00"));
        surgicalCase.Case.MarginsAfter(3, Some.Overlap).State.ShouldBe(CaseState.Cleared);
        Refusal.OfEntry("afterStage", () => surgicalCase.Case.MarginsAfter(4, Some.Overlap));
        Refusal.OfEntry("afterStage", () => surgicalCase.Case.MarginsAfter(-1, Some.Overlap));
    }

    [Fact]
    public void The_wound_grows_by_each_rim()
    {
        var surgicalCase = AfterStage2Read().Take(Some.Rim("07:15-08:00"), Some.Block("A", "07:15-08:00"));
        var areas = Defect.Each(surgicalCase.Case.Stages).Select(defect => defect.Size.AreaMm2).ToList();
        areas[0].ShouldBe(Math.PI * 14 * 10 / 4, 0.005);
        areas[1].ShouldBeGreaterThan(areas[0]);
        areas[2].ShouldBeGreaterThan(areas[1]);
    }

    private static CaseLog AfterStage1Taken() => Some.Case().Take(
        Some.Whole(Some.Ellipse(14, 10, "12:00")),
        Some.Block("A", "12:00-06:00", centre: true),
        Some.Block("B", "06:00-12:00", centre: true));

    private static CaseLog AfterStage1Read() => AfterStage1Taken().Read(1, "A").Read(1, "B", Some.TumourAt("07:30-09:00"));

    private static CaseLog AfterStage2Read() =>
        AfterStage1Read().Take(Some.Rim("07:45-09:15"), Some.Block("A", "07:45-09:15")).Read(2, "A");
}
