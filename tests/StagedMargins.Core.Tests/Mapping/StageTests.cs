using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Tests.Mapping;

public sealed class StageTests
{
    [Fact]
    public void Stage_one_is_exactly_one_whole_layer()
    {
        Refusal.OfEntry("pieces", () => Some.Case().Take(Some.Rim("07:30-09:00")));
        Refusal.OfEntry("pieces", () => Some.Case().Take([], []));
        Refusal.OfEntry("pieces", () => Some.Case().Take([Some.Whole(), Some.Whole()], []));
        Refusal.OfEntry("pieces", () => Some.Case().Take([Some.Whole(), Some.Base("01:00-02:00")], []));
    }

    [Fact]
    public void A_later_stage_has_pieces_and_no_whole_layer()
    {
        Refusal.OfEntry("pieces", () => Started().Take([], []));
        Refusal.OfEntry("pieces", () => Started().Take(Some.Whole()));
        Refusal.OfEntry("pieces", () => Started().Take([Some.Rim("01:00-02:00"), Some.Whole()], []));
    }

    [Fact]
    public void Every_kind_of_piece_is_taken_in_a_later_stage()
    {
        var stage = Started()
            .Take([Some.Rim("01:00-02:00"), Some.Base("03:00-04:00"), Some.Base(null, centre: true), Some.RimAndBase("05:00-06:00")], [])
            .Case.Stages[^1];
        stage.Number.ShouldBe(2);
        stage.Taken(Margin.Peripheral).ShouldBe(Some.Region("01:00-02:00", "05:00-06:00"));
        stage.Taken(Margin.Deep).ShouldBe(Some.Region("03:00-04:00", "05:00-06:00", "centre"));
    }

    [Fact]
    public void What_was_recorded_is_kept_with_who_and_when()
    {
        var surgicalCase = Started();
        var layer = new Layer(Some.At(40), [Some.Rim("01:00-02:00")], [Some.Block("A", "01:00-02:00")], "  fast case ");
        var stage = surgicalCase.RecordLayer(layer, Some.Overlap, Some.Histotech, Some.At(41));
        (stage.Number, stage.TakenAt, stage.RecordedById, stage.RecordedAt, stage.ReasonForUnread)
            .ShouldBe((2, Some.At(40), Some.Histotech, Some.At(41), "fast case"));
        surgicalCase.Case.Stages[1].ShouldBeSameAs(stage);
        surgicalCase.Case.StageOf(2).ShouldBeSameAs(stage);
    }

    [Fact]
    public void A_list_that_is_changed_afterwards_does_not_change_the_record()
    {
        var surgicalCase = Started();
        var pieces = new List<Piece> { Some.Rim("01:00-02:00") };
        var stage = surgicalCase.RecordLayer(new Layer(Some.At(40), pieces, []), Some.Overlap, Some.Surgeon, Some.At(41));
        pieces[0] = Some.Rim("07:00-08:00");
        stage.Taken(Margin.Peripheral).ShouldBe(Some.Region("01:00-02:00"));
    }

    [Fact]
    public void A_stage_that_is_not_there_is_said_to_be_missing()
    {
        Should.Throw<NotInRecordException>(() => Started().Case.StageOf(2));
        Should.Throw<NotInRecordException>(() => Started().Case.StageOf(0));
        Should.Throw<NotInRecordException>(() => Started().Case.StageOf(1).BlockOf("B"));
    }

    [Fact]
    public void A_case_and_a_layer_have_their_limits()
    {
        var surgicalCase = Started();
        Refusal.OfEntry("pieces", () => surgicalCase.Take([.. Enumerable.Repeat(Some.Rim("01:00-02:00"), RecordLimits.Pieces + 1)], []));
        for (var stage = 2; stage <= RecordLimits.Stages; stage++)
        {
            surgicalCase.Take(Some.Rim("01:00-02:00"), Some.Block("A", "01:00-02:00")).Read(stage, "A");
        }

        surgicalCase.Case.Stages.Count.ShouldBe(RecordLimits.Stages);
        Refusal.OfEntry("number", () => surgicalCase.Take(Some.Rim("01:00-02:00")));
    }

    [Fact]
    public void The_last_entry_of_each_time_holds_and_none_is_lost()
    {
        var surgicalCase = Started();
        surgicalCase.Time(1, StageMoment.Received, 12);
        surgicalCase.Time(1, StageMoment.SlidesReady, 25);
        surgicalCase.Time(1, StageMoment.Received, 14);
        var stage = surgicalCase.Case.StageOf(1);
        (stage.TimeOf(StageMoment.Received), stage.TimeOf(StageMoment.SlidesReady)).ShouldBe((Some.At(14), Some.At(25)));
        stage.Times.Select(entry => entry.Ordinal).ShouldBe([1, 2, 3]);
        Refusal.OfEntry("receivedAt", () => surgicalCase.RecordTimes(1, [], Some.Histotech, Some.At(28)));
        Should.Throw<NotInRecordException>(() => surgicalCase.Time(2, StageMoment.Received, 12));
    }

    private static CaseLog Started() => Some.Case().Take(Some.Whole(), Some.Block("A", "12:00-12:00", centre: true)).Read(1, "A");
}
