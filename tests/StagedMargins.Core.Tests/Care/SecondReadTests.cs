using StagedMargins.Core.Care;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Tests.Care;

public sealed class SecondReadTests
{
    [Fact]
    public void A_case_is_closed_to_the_second_reader_until_both_readings_are_in()
    {
        var of = Read();
        var asked = Ask(of, Some.OtherSurgeon);
        of.IsBlindFor(Some.OtherSurgeon).ShouldBeTrue();
        of.IsBlindFor(Some.Surgeon).ShouldBeFalse();
        of.PairOf(asked).ShouldBeNull();
        Answer(of, ReadingOutcome.Tumour);
        of.IsBlindFor(Some.OtherSurgeon).ShouldBeFalse();
        of.PairOf(asked).ShouldBe(new ReadPair(ReadingOutcome.Clear, ReadingOutcome.Tumour));
    }

    [Fact]
    public void An_amendment_made_in_knowledge_of_the_second_read_does_not_enter_the_pair()
    {
        var of = Read();
        var asked = Ask(of, Some.OtherSurgeon);
        Answer(of, ReadingOutcome.Tumour);
        of.Amend(1, "A", Some.TumourAt("01:00-02:00"));
        of.PairOf(asked).ShouldBe(new ReadPair(ReadingOutcome.Clear, ReadingOutcome.Tumour));
    }

    [Fact]
    public void Who_has_read_in_the_case_or_asks_is_not_blind()
    {
        Refusal.OfStep("notBlind", () => Ask(Read(), Some.Surgeon));
        Refusal.OfStep("notBlind", () => Read().AskSecondRead(1, "A", Some.OtherSurgeon, Some.Overlap, Some.OtherSurgeon, Some.At(40)));
        Refusal.OfStep("notReadYet", () => Ask(Some.Case().Take(Some.Whole(), Some.Block("A", "12:00-12:00", centre: true)), Some.OtherSurgeon));
    }

    [Fact]
    public void A_second_read_is_given_once_by_whom_it_was_asked_of()
    {
        var of = Read();
        Ask(of, Some.OtherSurgeon);
        Refusal.OfStep("alreadyAsked", () => Ask(of, Some.OtherSurgeon));
        Refusal.OfStep("notTheReader", () => of.AnswerSecondRead(1, ReadingOutcome.Clear, null, Some.Overlap, Some.Surgeon, Some.At(50)));
        Answer(of, ReadingOutcome.Clear);
        Refusal.OfStep("alreadyRead", () => Answer(of, ReadingOutcome.Tumour));
        Should.Throw<NotInRecordException>(() => of.AnswerSecondRead(2, ReadingOutcome.Clear, null, Some.Overlap, Some.OtherSurgeon, Some.At(50)));
    }

    [Fact]
    public void A_task_given_back_opens_the_case_and_makes_no_pair()
    {
        var of = Read();
        var asked = Ask(of, Some.OtherSurgeon);
        Refusal.OfEntry("reason", () => of.AnswerSecondRead(1, null, null, Some.Overlap, Some.OtherSurgeon, Some.At(50)));
        of.IsBlindFor(Some.OtherSurgeon).ShouldBeTrue();
        of.AnswerSecondRead(1, null, "on leave", Some.Overlap, Some.OtherSurgeon, Some.At(50));
        of.IsBlindFor(Some.OtherSurgeon).ShouldBeFalse();
        of.PairOf(asked).ShouldBeNull();
    }

    private static SurgicalCase Read() => Some.Case().Take(Some.Whole(), Some.Block("A", "12:00-12:00", centre: true)).Read(1, "A");

    private static SecondRead Ask(SurgicalCase of, Guid reader) => of.AskSecondRead(1, "A", reader, Some.Overlap, Some.Histotech, Some.At(40));

    private static void Answer(SurgicalCase of, ReadingOutcome outcome) => of.AnswerSecondRead(1, outcome, null, Some.Overlap, Some.OtherSurgeon, Some.At(50));
}
