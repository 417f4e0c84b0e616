using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Tests.Mapping;

public sealed class CountersigningTests
{
    [Fact]
    public void The_reader_who_writes_signs_by_writing()
    {
        var surgicalCase = Whole().Read(1, "A");
        var reading = surgicalCase.Case.StageOf(1).BlockOf("A").CountingReading!;
        reading.SignedById.ShouldBe(Some.Surgeon);
        surgicalCase.Case.ToBeCountersigned().ShouldBeEmpty();
        Refusal.OfStep("alreadySigned", () => Sign(surgicalCase, reading, Some.Surgeon));
    }

    [Fact]
    public void A_reading_written_for_the_reader_counts_at_once_and_waits_for_the_signature()
    {
        var surgicalCase = Whole();
        var draft = surgicalCase.Draft(1, "A");
        draft.SignedById.ShouldBeNull();
        surgicalCase.Margins().State.ShouldBe(CaseState.Cleared);
        var waiting = surgicalCase.Case.ToBeCountersigned().ShouldHaveSingleItem();
        (waiting.Stage.Number, waiting.Block.Label, waiting.Reading.Id).ShouldBe((1, "A", draft.Id));
    }

    [Fact]
    public void A_case_does_not_end_as_cleared_before_the_signature()
    {
        var surgicalCase = Whole();
        var draft = surgicalCase.Draft(1, "A");
        Refusal.OfStep("toBeCountersigned", () => surgicalCase.End(CaseOutcome.Cleared)).Message.ShouldContain("stage 1 block A");
        surgicalCase.Case.Ending.ShouldBeNull();
        Sign(surgicalCase, draft, Some.Surgeon);
        surgicalCase.End(CaseOutcome.Cleared).Case.Ending?.Outcome.ShouldBe(CaseOutcome.Cleared);
    }

    [Theory]
    [InlineData(CaseOutcome.StoppedNotCleared)]
    [InlineData(CaseOutcome.ContinuesLater)]
    public void Any_other_end_does_not_wait_for_it(CaseOutcome outcome)
    {
        var surgicalCase = Whole();
        surgicalCase.Draft(1, "A");
        surgicalCase.End(outcome);
        (surgicalCase.Case.Ending ?? surgicalCase.Case.Pause)!.Outcome.ShouldBe(outcome);
    }

    [Fact]
    public void Only_the_reader_signs_and_only_once()
    {
        var surgicalCase = Whole();
        var draft = surgicalCase.Draft(1, "A");
        Refusal.OfStep("notTheReader", () => Sign(surgicalCase, draft, Some.OtherSurgeon));
        Refusal.OfStep("notTheReader", () => Sign(surgicalCase, draft, Some.Histotech));
        Sign(surgicalCase, draft, Some.Surgeon);
        Refusal.OfStep("alreadySigned", () => surgicalCase.Countersign(draft.Id, Some.OtherSurgeon, Some.At(51), takesOver: true));
        var signed = surgicalCase.Case.StageOf(1).BlockOf("A").CountingReading!;
        (signed.Countersignature!.ById, signed.Countersignature.At, signed.SignedById).ShouldBe((Some.Surgeon, Some.At(50), Some.Surgeon));
        Refusal.OfStep("alreadySigned", () => Sign(surgicalCase, draft, Some.Surgeon));
    }

    [Fact]
    public void A_reading_that_was_amended_is_no_longer_signed()
    {
        var surgicalCase = Whole();
        var draft = surgicalCase.Draft(1, "A");
        surgicalCase.Amend(1, "A");
        Refusal.OfStep("amended", () => Sign(surgicalCase, draft, Some.Surgeon));
        surgicalCase.Case.ToBeCountersigned().ShouldBeEmpty();
        surgicalCase.End(CaseOutcome.Cleared).Case.Ending?.Outcome.ShouldBe(CaseOutcome.Cleared);
    }

    [Fact]
    public void An_amendment_written_for_the_reader_waits_again()
    {
        var surgicalCase = Whole().Read(1, "A");
        var amendment = CaseVerbs.Amendment(surgicalCase, 1, "A", ReadingOutcome.Clear, []);
        surgicalCase.RecordReading(1, "A", amendment, Some.Histotech, Some.At(40));
        surgicalCase.Case.ToBeCountersigned().Count.ShouldBe(1);
        Refusal.OfStep("toBeCountersigned", () => surgicalCase.End(CaseOutcome.Cleared));
    }

    [Fact]
    public void Every_missing_signature_is_named()
    {
        var surgicalCase = Some.Case().Take(Some.Whole(), Some.Block("A", "12:00-06:00", centre: true), Some.Block("B", "06:00-12:00", centre: true));
        surgicalCase.Draft(1, "A");
        surgicalCase.Draft(1, "B");
        Refusal.OfStep("toBeCountersigned", () => surgicalCase.End(CaseOutcome.Cleared)).Message.ShouldContain("stage 1 block A, stage 1 block B");
    }

    [Fact]
    public void A_reading_that_is_not_there_is_not_signed() => Should.Throw<NotInRecordException>(
        () => Whole().Countersign(Guid.Parse("55555555-5555-5555-5555-555555555555"), Some.Surgeon, Some.At(50)));

    private static CaseLog Whole() => Some.Case().Take(Some.Whole(), Some.Block("A", "12:00-12:00", centre: true));

    private static void Sign(CaseLog surgicalCase, Reading reading, Guid by) => surgicalCase.Countersign(reading.Id, by, Some.At(50));
}
