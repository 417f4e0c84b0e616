using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Tests.Mapping;

public sealed class RecallTests
{
    [Fact]
    public void An_amendment_to_tumour_recalls_a_closed_case()
    {
        var surgicalCase = Closed().Amend(1, "A", Some.TumourAt("07:30-09:00"));
        surgicalCase.Case.Recall.ShouldBeTrue();
        surgicalCase.Case.State.ShouldBe(CaseState.TumourOutstanding);
        surgicalCase.Case.Ending?.Outcome.ShouldBe(CaseOutcome.Cleared);
    }

    [Fact]
    public void An_amendment_to_unreadable_recalls_a_closed_case()
    {
        var surgicalCase = Closed().AmendUnreadable(1, "A");
        (surgicalCase.Case.Recall, surgicalCase.Case.State).ShouldBe((true, CaseState.AwaitingReadings));
    }

    [Fact]
    public void The_flag_stays_when_a_further_amendment_makes_the_case_clear_again()
    {
        var surgicalCase = Closed().Amend(1, "A", Some.TumourAt("07:30-09:00")).Amend(1, "A");
        (surgicalCase.Case.Recall, surgicalCase.Case.State).ShouldBe((true, CaseState.Cleared));
    }

    [Fact]
    public void An_amendment_that_leaves_the_case_clear_recalls_nobody() =>
        Closed().Amend(1, "A", Some.Found(FindingKind.Scar, Margin.Deep, "01:00-02:00")).Case.Recall.ShouldBeFalse();

    [Fact]
    public void An_amendment_before_the_end_recalls_nobody()
    {
        var surgicalCase = Open().Read(1, "A").Amend(1, "A", Some.TumourAt("07:30-09:00")).Amend(1, "A").End(CaseOutcome.Cleared);
        surgicalCase.Case.Recall.ShouldBeFalse();
    }

    [Fact]
    public void Tumour_in_a_place_that_a_later_layer_took_recalls_nobody()
    {
        var surgicalCase = Open().Read(1, "A", Some.TumourAt("07:30-09:00"))
            .Take(Some.Rim("07:00-10:00"), Some.Block("A", "07:00-10:00")).Read(2, "A").End(CaseOutcome.Cleared);
        surgicalCase.Amend(1, "A", Some.TumourAt("07:00-10:00")).Case.Recall.ShouldBeFalse();
        surgicalCase.Amend(1, "A", Some.TumourAt("06:59-10:00")).Case.Recall.ShouldBeTrue();
    }

    private static CaseLog Open() => Some.Case().Take(Some.Whole(), Some.Block("A", "12:00-12:00", centre: true));

    private static CaseLog Closed() => Open().Read(1, "A").End(CaseOutcome.Cleared);
}
