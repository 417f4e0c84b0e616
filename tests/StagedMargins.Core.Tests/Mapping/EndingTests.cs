using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Tests.Mapping;

public sealed class EndingTests
{
    [Fact]
    public void A_case_with_no_tissue_is_not_clear() =>
        Refusal.OfStep("noTissue", () => Some.Case().End(CaseOutcome.Cleared));

    [Fact]
    public void Every_place_that_is_not_clear_is_named()
    {
        var surgicalCase = Some.Case().Take(Some.Whole(), Some.Block("A", "12:00-06:00"), Some.Block("B", "06:00-12:00"));
        surgicalCase.Read(1, "A", Some.TumourAt("01:00-02:00", Margin.Deep));
        var refusal = Refusal.OfStep("marginsNotClear", () => surgicalCase.End(CaseOutcome.Cleared));
        refusal.Places.ShouldBe(
        [
            new BlockingRegion("outstanding", Margin.Deep, Some.Region("01:00-02:00")),
            new BlockingRegion("unread", Margin.Peripheral, Some.Region("06:00-12:00")),
            new BlockingRegion("unread", Margin.Deep, Some.Region("06:00-12:00", "centre")),
        ]);
        refusal.Message.ShouldContain("tumour outstanding at the deep margin, 1 to 2 o'clock");
        (surgicalCase.Case.Ending, surgicalCase.Case.Ending?.Outcome).ShouldBe((null, null));
    }

    [Fact]
    public void Stopping_with_tumour_needs_reason_and_plan()
    {
        Refusal.OfEntry("reason", () => End(Tumour(), CaseOutcome.StoppedWithTumour, reason: null));
        Refusal.OfEntry("reason", () => End(Tumour(), CaseOutcome.StoppedWithTumour, reason: " "));
        Refusal.OfEntry("plan", () => End(Tumour(), CaseOutcome.StoppedWithTumour, plan: null));
        var ending = End(Tumour(), CaseOutcome.StoppedWithTumour);
        (ending.Outcome, ending.Reason, ending.Plan, ending.EndedAt, ending.Repair, ending.RecordedById)
            .ShouldBe((CaseOutcome.StoppedWithTumour, "nerve at risk", "radiation opinion", Some.At(90), RepairKind.Graft, Some.Surgeon));
    }

    [Fact]
    public void A_case_that_continues_later_says_on_what_day()
    {
        var day = new DateOnly(2026, 3, 10);
        End(Unread(), CaseOutcome.ContinuesLater, reason: null, plan: null, day).ContinuesOn.ShouldBe(day);
        Refusal.OfEntry("continuesOn", () => End(Clear(), CaseOutcome.Cleared, reason: null, plan: null, day));
    }

    [Fact]
    public void A_refused_ending_leaves_the_case_open_and_unchanged()
    {
        var surgicalCase = Tumour();
        var version = surgicalCase.Case.Version;
        Refusal.OfEntry("reason", () => surgicalCase.End(
            new EndingEntry(CaseOutcome.StoppedWithTumour, Some.At(90), null, "refer", null, null),
            new MeasuredDefectEntry(Some.Mm(14), Some.Mm(10), null),
            Some.Surgeon,
            Some.At(91)));
        (surgicalCase.Case.Ending, surgicalCase.Case.MeasuredDefects.Count, surgicalCase.Case.Version).ShouldBe((null, 0, version));
        surgicalCase.End(CaseOutcome.StoppedWithTumour).Case.Ending?.Outcome.ShouldBe(CaseOutcome.StoppedWithTumour);
    }

    [Fact]
    public void Each_end_fits_how_the_case_stands()
    {
        Refusal.OfStep("noTumourOutstanding", () => End(Unread(), CaseOutcome.StoppedWithTumour));
        Refusal.OfStep("marginsClear", () => End(Clear(), CaseOutcome.StoppedWithTumour));
        Refusal.OfStep("marginsClear", () => End(Clear(), CaseOutcome.StoppedNotCleared));
        Refusal.OfStep("tumourOutstanding", () => End(Tumour(), CaseOutcome.StoppedNotCleared));
        Refusal.OfEntry("plan", () => End(Unread(), CaseOutcome.StoppedNotCleared, plan: null));
        End(Unread(), CaseOutcome.StoppedNotCleared).Outcome.ShouldBe(CaseOutcome.StoppedNotCleared);
        Refusal.OfStep("stageRecorded", () => End(Unread(), CaseOutcome.NotDone));
        Refusal.OfEntry("reason", () => End(Some.Case(), CaseOutcome.NotDone, reason: null));
        End(Some.Case(), CaseOutcome.NotDone, plan: null).Outcome.ShouldBe(CaseOutcome.NotDone);
        Refusal.OfEntry("continuesOn", () => End(Unread(), CaseOutcome.ContinuesLater));
    }

    [Fact]
    public void What_is_still_awaited_needs_a_reason_before_a_case_ends_as_cleared()
    {
        var surgicalCase = Clear();
        surgicalCase.SendForPermanentSection(1, "A", Some.At(40), null, Some.Histotech, Some.At(40));
        Refusal.OfStep("questionsOpen", () => End(surgicalCase, CaseOutcome.Cleared, reason: null, plan: null)).Message.ShouldContain("permanent sections of stage 1 block A");
        End(surgicalCase, CaseOutcome.Cleared, reason: "report next week", plan: null).Reason.ShouldBe("report next week");
    }

    [Fact]
    public void A_pause_is_no_end_and_the_next_stage_goes_on()
    {
        var surgicalCase = Tumour();
        End(surgicalCase, CaseOutcome.ContinuesLater, day: new DateOnly(2026, 3, 4));
        (surgicalCase.Case.Ending, surgicalCase.Case.Pause?.ContinuesOn).ShouldBe((null, new DateOnly(2026, 3, 4)));
        surgicalCase.Take(Some.Rim("12:45-02:15"));
        (surgicalCase.Case.Pause, surgicalCase.Case.Stages.Count).ShouldBe((null, 2));
    }

    [Fact]
    public void An_ended_case_takes_amendments_and_no_further_layer()
    {
        var surgicalCase = Clear().Add(1, Some.Block("B", "01:00-02:00")).Read(1, "B").End(CaseOutcome.Cleared);
        Refusal.OfStep("caseEnded", () => surgicalCase.Take(Some.Rim("01:00-02:00")));
        Refusal.OfStep("caseEnded", () => surgicalCase.Add(1, Some.Block("C", "01:00-02:00")));
        Refusal.OfStep("caseEnded", () => surgicalCase.End(CaseOutcome.ContinuesLater));
        Refusal.OfStep("caseEnded", () => surgicalCase.Time(1, StageMoment.Received, 12));
        surgicalCase.Amend(1, "A", Some.TumourAt("01:00-02:00")).Case.StageOf(1).BlockOf("A").Readings.Count.ShouldBe(2);
    }

    [Fact]
    public void A_block_left_unread_when_the_case_ended_can_be_read_afterwards() =>
        Unread().End(CaseOutcome.StoppedNotCleared).Read(1, "A").Case.State.ShouldBe(CaseState.Cleared);

    [Fact]
    public void A_case_is_opened_again_with_a_reason_and_its_earlier_end_stays()
    {
        var surgicalCase = Clear();
        Refusal.OfStep("caseOpen", () => surgicalCase.Reopen("second look", Some.Surgeon, Some.At(100)));
        surgicalCase.End(CaseOutcome.Cleared);
        Refusal.OfEntry("reason", () => surgicalCase.Reopen(" ", Some.Surgeon, Some.At(100)));
        surgicalCase.Reopen("second look", Some.Surgeon, Some.At(100));
        (surgicalCase.Case.Ending, surgicalCase.Case.Endings.Single().Reopened!.Reason).ShouldBe((null, "second look"));
        surgicalCase.End(CaseOutcome.Cleared);
        surgicalCase.Case.Endings.Count.ShouldBe(2);
    }

    [Fact]
    public void The_head_of_a_case_follows_its_entries()
    {
        var surgicalCase = Some.Case(confirmed: false);
        (surgicalCase.Case.Version, surgicalCase.Case.State, surgicalCase.Case.Stages.Count).ShouldBe((1, CaseState.NoTissue, 0));
        surgicalCase.Take(Some.Whole(), Some.Block("A", "12:00-12:00", centre: true));
        (surgicalCase.Case.Version, surgicalCase.Case.State, surgicalCase.Case.Stages.Count).ShouldBe((2, CaseState.AwaitingReadings, 1));
        surgicalCase.Read(1, "A").End(CaseOutcome.Cleared);
        (surgicalCase.Case.Version, surgicalCase.Case.State, surgicalCase.Case.Ending?.Outcome, surgicalCase.Case.Ending?.EndedAt.Utc).ShouldBe((4, CaseState.Cleared, CaseOutcome.Cleared, Some.At(90).Utc));
        surgicalCase.Case.Recall.ShouldBeFalse();
    }

    private static CaseLog Unread() => Some.Case().Take(Some.Whole(), Some.Block("A", "12:00-12:00", centre: true));

    private static CaseLog Clear() => Unread().Read(1, "A");

    private static CaseLog Tumour() => Unread().Read(1, "A", Some.TumourAt("01:00-02:00"));

    private static Ending End(CaseLog surgicalCase, CaseOutcome outcome, string? reason = "nerve at risk", string? plan = "radiation opinion", DateOnly? day = null)
    {
        surgicalCase.End(new EndingEntry(outcome, Some.At(90), reason, plan, day, RepairKind.Graft), null, Some.Surgeon, Some.At(91));
        return surgicalCase.Case.Ending ?? surgicalCase.Case.Pause!;
    }
}
