using StagedMargins.Core.Care;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Tests.Care;

public sealed class SecondReadTests
{
    [Fact]
    public void A_case_is_closed_to_the_second_reader_until_both_readings_are_in()
    {
        var surgicalCase = Read();
        var asked = Ask(surgicalCase, Some.OtherSurgeon);
        surgicalCase.Case.IsBlindFor(Some.OtherSurgeon).ShouldBeTrue();
        surgicalCase.Case.IsBlindFor(Some.Surgeon).ShouldBeFalse();
        surgicalCase.Case.PairOf(asked).ShouldBeNull();
        Answer(surgicalCase, ReadingOutcome.Tumour);
        surgicalCase.Case.IsBlindFor(Some.OtherSurgeon).ShouldBeFalse();
        surgicalCase.Case.PairOf(surgicalCase.Case.SecondReads[0]).ShouldBe(new ReadPair(ReadingOutcome.Clear, ReadingOutcome.Tumour));
    }

    [Fact]
    public void An_amendment_made_in_knowledge_of_the_second_read_does_not_enter_the_pair()
    {
        var surgicalCase = Read();
        var asked = Ask(surgicalCase, Some.OtherSurgeon);
        Answer(surgicalCase, ReadingOutcome.Tumour);
        surgicalCase.Amend(1, "A", Some.TumourAt("01:00-02:00"));
        surgicalCase.Case.PairOf(surgicalCase.Case.SecondReads[0]).ShouldBe(new ReadPair(ReadingOutcome.Clear, ReadingOutcome.Tumour));
    }

    [Fact]
    public void Who_has_read_in_the_case_or_asks_is_not_blind()
    {
        Refusal.OfStep("notBlind", () => Ask(Read(), Some.Surgeon));
        Refusal.OfStep("notBlind", () => Read().AskSecondRead(1, "A", Some.OtherSurgeon, Some.OtherSurgeon, Some.At(40)));
        Refusal.OfStep("notReadYet", () => Ask(Some.Case().Take(Some.Whole(), Some.Block("A", "12:00-12:00", centre: true)), Some.OtherSurgeon));
    }

    [Fact]
    public void A_second_read_is_given_once_by_whom_it_was_asked_of()
    {
        var surgicalCase = Read();
        Ask(surgicalCase, Some.OtherSurgeon);
        Refusal.OfStep("alreadyAsked", () => Ask(surgicalCase, Some.OtherSurgeon));
        Refusal.OfStep("notTheReader", () => surgicalCase.AnswerSecondRead(1, ReadingOutcome.Clear, null, Some.Surgeon, Some.At(50)));
        Answer(surgicalCase, ReadingOutcome.Clear);
        Refusal.OfStep("alreadyRead", () => Answer(surgicalCase, ReadingOutcome.Tumour));
        Should.Throw<NotInRecordException>(() => surgicalCase.AnswerSecondRead(2, ReadingOutcome.Clear, null, Some.OtherSurgeon, Some.At(50)));
    }

    [Fact]
    public void A_task_given_back_opens_the_case_and_makes_no_pair()
    {
        var surgicalCase = Read();
        var asked = Ask(surgicalCase, Some.OtherSurgeon);
        Refusal.OfEntry("reason", () => surgicalCase.GiveBackSecondRead(1, null, Some.OtherSurgeon, Some.At(50)));
        surgicalCase.Case.IsBlindFor(Some.OtherSurgeon).ShouldBeTrue();
        surgicalCase.GiveBackSecondRead(1, "on leave", Some.OtherSurgeon, Some.At(50));
        surgicalCase.Case.IsBlindFor(Some.OtherSurgeon).ShouldBeFalse();
        surgicalCase.Case.PairOf(asked).ShouldBeNull();
    }

    private static CaseLog Read() => Some.Case().Take(Some.Whole(), Some.Block("A", "12:00-12:00", centre: true)).Read(1, "A");

    private static SecondRead Ask(CaseLog surgicalCase, Guid reader) => surgicalCase.AskSecondRead(1, "A", reader, Some.Histotech, Some.At(40));

    private static void Answer(CaseLog surgicalCase, ReadingOutcome outcome) => surgicalCase.AnswerSecondRead(1, outcome, null, Some.OtherSurgeon, Some.At(50));
}
