using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Tests.Mapping;

/// <summary>Each piece of a layer is looked at by itself: a clear piece says nothing of the one beside or under it.</summary>
public sealed class SeparatePiecesTests
{
    [Fact]
    public void A_base_under_a_rim_is_unread_until_a_block_of_its_own_is_read()
    {
        var surgicalCase = Cleared().Take([Some.Rim("07:00-09:00"), Some.Base("07:00-09:00")], [Some.Block("A", "07:00-09:00", piece: 1)]).Read(2, "A");
        surgicalCase.Margins().Deep.Unread.ShouldBe(Some.Region("07:00-09:00"));
        Refusal.OfStep("marginsNotClear", () => surgicalCase.End(CaseOutcome.Cleared));
        surgicalCase.Add(2, Some.Block("B", "07:00-09:00", piece: 2)).Read(2, "B").End(CaseOutcome.Cleared).Case.Ending?.Outcome.ShouldBe(CaseOutcome.Cleared);
    }

    [Fact]
    public void A_rim_over_a_base_is_unread_until_a_block_of_its_own_is_read()
    {
        var surgicalCase = Cleared().Take([Some.Rim("07:00-09:00"), Some.Base("07:00-09:00")], [Some.Block("A", "07:00-09:00", piece: 2)]).Read(2, "A");
        surgicalCase.Margins().Peripheral.Unread.ShouldBe(Some.Region("07:00-09:00"));
        surgicalCase.Margins().Deep.Unread.ShouldBe(Some.Region("07:00-09:00"));
    }

    [Fact]
    public void Of_two_rims_over_the_same_hours_both_must_be_seen()
    {
        var surgicalCase = Cleared().Take([Some.Rim("07:00-09:00"), Some.Rim("08:00-10:00")], [Some.Block("A", "07:00-09:00")]).Read(2, "A");
        surgicalCase.Margins().Peripheral.Unread.ShouldBe(Some.Region("08:00-10:00"));
        surgicalCase.Case.Stages[1].Alerts.ShouldContain(new MarginAlert(AlertCode.Unmapped, Margin.Peripheral, Some.Region("08:00-10:00")));
        Refusal.OfStep("marginsNotClear", () => surgicalCase.End(CaseOutcome.Cleared));
        surgicalCase.Add(2, Some.Block("B", "08:00-10:00")).Read(2, "B").Margins().State.ShouldBe(CaseState.Cleared);
    }

    [Fact]
    public void An_unreadable_block_leaves_its_own_piece_unread_and_no_other()
    {
        var surgicalCase = Cleared().Take(
            [Some.Rim("07:00-09:00"), Some.Base("07:00-09:00")],
            [Some.Block("A", "07:00-09:00", piece: 1), Some.Block("B", "07:00-09:00", piece: 2)]);
        surgicalCase.Unreadable(2, "B").Read(2, "A").Margins().Peripheral.Unread.IsEmpty.ShouldBeTrue();
        surgicalCase.Margins().Deep.Unread.ShouldBe(Some.Region("07:00-09:00"));
    }

    private static CaseLog Cleared() => Some.Case().Take(Some.Whole(), Some.Block("A", "12:00-12:00", centre: true)).Read(1, "A");
}
