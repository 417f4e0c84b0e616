using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Tests.Mapping;

public sealed class OverlappingBlocksTests
{
    [Fact]
    public void Where_blocks_overlap_positive_wins()
    {
        var margins = Overlapping().Read(1, "A").Read(1, "B", Some.TumourAt("05:00-06:00")).Margins();
        margins.Peripheral.Outstanding.ShouldBe(Some.Region("05:00-06:00"));
        margins.Peripheral.Unread.IsEmpty.ShouldBeTrue();
    }

    [Fact]
    public void Where_blocks_overlap_unread_wins_over_clear()
    {
        var surgicalCase = Overlapping().Read(1, "A");
        surgicalCase.Margins().Peripheral.Unread.ShouldBe(Some.Region("05:00-12:00"));
        surgicalCase.Margins().Deep.Unread.ShouldBe(Some.Region("05:00-12:00", "centre"));
        surgicalCase.Unreadable(1, "B").Margins().Peripheral.Unread.ShouldBe(Some.Region("05:00-12:00"));
        surgicalCase.Amend(1, "B").Margins().State.ShouldBe(CaseState.Cleared);
    }

    [Fact]
    public void Where_blocks_overlap_unread_wins_beside_tumour()
    {
        var margins = Overlapping().Read(1, "A", Some.TumourAt("05:00-06:00")).Margins();
        margins.Peripheral.Outstanding.ShouldBe(Some.Region("05:00-06:00"));
        margins.Peripheral.Unread.ShouldBe(Some.Region("05:00-12:00"));
    }

    [Fact]
    public void The_centre_is_seen_only_where_every_block_that_holds_it_is()
    {
        var surgicalCase = Some.Case().Take(Some.Whole(), Some.Block("A", "12:00-06:00", centre: true), Some.Block("B", "06:00-12:00"), Some.Block("C", null, centre: true));
        surgicalCase.Read(1, "A").Read(1, "B").Margins().Deep.Unread.ShouldBe(Some.Region("centre"));
        surgicalCase.Unreadable(1, "C").Margins().Deep.Unread.ShouldBe(Some.Region("centre"));
        surgicalCase.Amend(1, "C").Margins().State.ShouldBe(CaseState.Cleared);
    }

    [Fact]
    public void Tumour_at_the_centre_is_outstanding_and_targeted_until_a_base_takes_it()
    {
        var surgicalCase = Some.Case().Take(Some.Whole(), Some.Block("A", "12:00-12:00", centre: true))
            .Read(1, "A", Some.Found(FindingKind.Tumour, Margin.Deep, null, centre: true));
        surgicalCase.Margins().Deep.Outstanding.ShouldBe(Some.Region("centre"));
        surgicalCase.Margins().Target(Margin.Deep).ShouldBe(Some.Region("centre"));
        surgicalCase.Margins().State.ShouldBe(CaseState.TumourOutstanding);
        surgicalCase.Take(Some.Base(null, centre: true), Some.Block("A", null, centre: true)).Read(2, "A").Margins().State.ShouldBe(CaseState.Cleared);
    }

    [Fact]
    public void A_block_that_names_its_piece_speaks_for_that_piece_alone()
    {
        var surgicalCase = Some.Case().Take(Some.Whole(), Some.Block("A", "12:00-12:00", centre: true)).Read(1, "A");
        surgicalCase.Take(
            [Some.Rim("07:00-09:00"), Some.Base("07:00-09:00")],
            [Some.Block("A", "07:00-09:00", piece: 1), Some.Block("B", "07:00-09:00", piece: 2)]);
        surgicalCase.Read(2, "A");
        surgicalCase.Margins().Peripheral.Unread.IsEmpty.ShouldBeTrue();
        surgicalCase.Margins().Deep.Unread.ShouldBe(Some.Region("07:00-09:00"));
        Refusal.OfEntry("findings[0].margin", () => surgicalCase.Read(2, "B", Some.TumourAt("07:00-08:00")));
        surgicalCase.Unreadable(2, "B").Margins().Peripheral.Unread.IsEmpty.ShouldBeTrue();
        surgicalCase.Amend(2, "B").Margins().State.ShouldBe(CaseState.Cleared);
    }

    [Fact]
    public void A_block_that_names_no_piece_speaks_for_the_piece_that_holds_all_of_it()
    {
        var surgicalCase = Some.Case().Take(Some.Whole(), Some.Block("A", "12:00-12:00", centre: true)).Read(1, "A");
        surgicalCase.Take([Some.Rim("07:00-09:00"), Some.Base("07:30-08:00")], [Some.Block("A", "07:00-09:00")]);
        surgicalCase.Read(2, "A").Margins().Deep.Unread.ShouldBe(Some.Region("07:30-08:00"));
        surgicalCase.Case.Stages[1].Alerts.ShouldContain(new MarginAlert(AlertCode.Unmapped, Margin.Deep, Some.Region("07:30-08:00")));
        surgicalCase.Add(2, Some.Block("B", "07:30-08:00", piece: 2)).Read(2, "B").Margins().State.ShouldBe(CaseState.Cleared);
    }

    private static CaseLog Overlapping() =>
        Some.Case().Take(Some.Whole(), Some.Block("A", "12:00-06:00", centre: true), Some.Block("B", "05:00-12:00", centre: true));
}
