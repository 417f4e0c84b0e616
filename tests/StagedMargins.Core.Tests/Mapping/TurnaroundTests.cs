using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Tests.Mapping;

public sealed class TurnaroundTests
{
    // Taken at minute 10; the verbs of the tests read at minute 29.
    [Fact]
    public void Each_step_and_the_whole_are_told_in_minutes()
    {
        var surgicalCase = Two();
        surgicalCase.Time(1, StageMoment.Received, 13);
        surgicalCase.Time(1, StageMoment.SlidesReady, 25);
        surgicalCase.Read(1, "A").Read(1, "B");
        Turnaround.Of(surgicalCase.Case.Stages[0]).ShouldBe(new Turnaround(3, 12, 4, 19, Some.At(29), false));
    }

    [Fact]
    public void A_stage_is_not_read_before_its_last_block_is_adequately_read()
    {
        var surgicalCase = Two().Read(1, "A").Unreadable(1, "B");
        (Turnaround.Of(surgicalCase.Case.Stages[0]).Whole, Turnaround.Of(surgicalCase.Case.Stages[0]).ReadAt).ShouldBe((null, null));
        surgicalCase.Amend(1, "B");
        Turnaround.Of(surgicalCase.Case.Stages[0]).Whole.ShouldBe(19);
    }

    [Fact]
    public void Times_that_contradict_each_other_are_said_to()
    {
        var surgicalCase = Two();
        surgicalCase.Time(1, StageMoment.Received, 25);
        surgicalCase.Time(1, StageMoment.SlidesReady, 20);
        var turnaround = Turnaround.Of(surgicalCase.Case.Stages[0]);
        turnaround.OutOfOrder.ShouldBeTrue();
        turnaround.ToSlidesReady.ShouldBeNull();
        surgicalCase.Time(1, StageMoment.Received, 15);
        Turnaround.Of(surgicalCase.Case.Stages[0]).ShouldBe(new Turnaround(5, 5, null, null, null, false));
    }

    private static CaseLog Two() => Some.Case().Take(Some.Whole(), Some.Block("A", "12:00-06:00", centre: true), Some.Block("B", "06:00-12:00", centre: true));
}
