using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Tests.Mapping;

public sealed class BlockTests
{
    [Theory]
    [InlineData("A")]
    [InlineData("Z")]
    [InlineData("AA")]
    [InlineData("A1")]
    [InlineData("B123")]
    public void A_label_is_a_letter_with_up_to_three_more(string label) =>
        Some.Case().Take(Some.Whole(), Some.Block(label, "12:00-06:00")).Case.StageOf(1).BlockOf(label).Label.ShouldBe(label);

    [Theory]
    [InlineData(null)]
    [InlineData("")]
    [InlineData("1")]
    [InlineData("1A")]
    [InlineData("ABCDE")]
    [InlineData("A ")]
    [InlineData("A-1")]
    [InlineData("A\n")]
    [InlineData("Ä")]
    public void Any_other_label_is_refused(string? label)
    {
        Refusal.OfEntry("blocks[0].label", () => Some.Case().Take(Some.Whole(), Some.Block(label!, "12:00-06:00")));
        Refusal.OfEntry("label", () => Some.Case().Take(Some.Whole()).Add(1, Some.Block(label!, "12:00-06:00")));
    }

    [Fact]
    public void Labels_that_differ_in_capitals_alone_are_one_label()
    {
        Refusal.OfEntry("blocks[1].label", () => Some.Case().Take(Some.Whole(), Some.Block("A", "12:00-06:00"), Some.Block("a", "06:00-12:00")));
        var surgicalCase = Some.Case().Take(Some.Whole(), Some.Block("A", "12:00-06:00"));
        Refusal.OfStep("labelTaken", () => surgicalCase.Add(1, Some.Block("a", "06:00-12:00")));
    }

    [Fact]
    public void A_label_is_unique_in_its_stage_and_free_again_in_the_next()
    {
        Refusal.OfEntry("blocks[1].label", () => Some.Case().Take(Some.Whole(), Some.Block("A", "12:00-06:00"), Some.Block("A", "06:00-12:00")));
        var surgicalCase = Some.Case().Take(Some.Whole(), Some.Block("A", "12:00-12:00", centre: true)).Read(1, "A");
        Refusal.OfStep("labelTaken", () => surgicalCase.Add(1, Some.Block("A", "01:00-02:00")));
        surgicalCase.Take(Some.Rim("01:00-02:00"), Some.Block("A", "01:00-02:00")).Case.StageOf(2).BlockOf("A").Ordinal.ShouldBe(1);
    }

    [Fact]
    public void A_block_covers_an_arc_or_the_centre_or_both()
    {
        Refusal.OfEntry("blocks[0].arc", () => Some.Case().Take(Some.Whole(), Some.Block("A", null)));
        var stage = Some.Case().Take(Some.Whole(), Some.Block("A", null, centre: true), Some.Block("B", "01:00-02:00", centre: true)).Case.StageOf(1);
        stage.BlockOf("A").Region().ShouldBe(Some.Region("centre"));
        stage.BlockOf("B").Region().ShouldBe(Some.Region("01:00-02:00", "centre"));
    }

    [Fact]
    public void A_block_must_lie_on_tissue_taken_in_its_stage()
    {
        var surgicalCase = Cleared();
        Refusal.OfEntry("blocks[0].arc", () => surgicalCase.Take(Some.Rim("07:30-09:00"), Some.Block("A", "07:29-09:00"))).Message.ShouldContain("7:30 to 9 o'clock");
        Refusal.OfEntry("blocks[0].arc", () => surgicalCase.Take(Some.Rim("07:30-09:00"), Some.Block("A", "12:00-12:00")));
        Refusal.OfEntry("blocks[0].centre", () => surgicalCase.Take(Some.Rim("07:30-09:00"), Some.Block("A", "07:30-09:00", centre: true)));
        Refusal.OfEntry("blocks[0].centre", () => surgicalCase.Take(Some.Base("07:30-09:00"), Some.Block("A", null, centre: true)));
        Refusal.OfEntry("blocks[0].arc", () => surgicalCase.Take(Some.Base(null, centre: true), Some.Block("A", "07:30-09:00", centre: true)));
        surgicalCase.Take(Some.Rim("07:30-09:00"));
        Refusal.OfEntry("arc", () => surgicalCase.Add(2, Some.Block("A", "08:00-09:01")));
        surgicalCase.Case.Stages.Count.ShouldBe(2);
    }

    [Fact]
    public void A_block_is_cut_from_one_piece_and_spans_no_two() =>
        Refusal.OfEntry("blocks[0].arc", () => Cleared().Take([Some.Rim("07:00-08:00"), Some.Rim("08:00-09:00")], [Some.Block("A", "07:30-08:30")]))
            .Message.ShouldContain("a block for each piece");

    [Fact]
    public void A_block_that_more_than_one_piece_could_hold_must_name_its_piece()
    {
        Piece[] pieces = [Some.Rim("07:00-09:00"), Some.Rim("01:00-02:00"), Some.Base("06:00-10:00")];
        var message = Refusal.OfEntry("blocks[0].piece", () => Cleared().Take(pieces, [Some.Block("A", "07:00-09:00")])).Message;
        message.ShouldContain("1, 3");
        var surgicalCase = Cleared().Take(pieces, [Some.Block("A", "06:30-09:00"), Some.Block("B", "07:00-09:00", piece: 1)]);
        surgicalCase.Case.Stages[1].Blocks.Select(block => block.PieceNumber).ShouldBe([3, 1]);
        Refusal.OfEntry("piece", () => surgicalCase.Add(2, Some.Block("C", "07:00-09:00")));
    }

    [Fact]
    public void A_block_that_names_its_piece_must_lie_on_it()
    {
        Piece[] pieces = [Some.Rim("07:00-08:00"), Some.Base("07:00-09:00")];
        Refusal.OfEntry("blocks[0].arc", () => Cleared().Take(pieces, [Some.Block("A", "07:00-09:00", piece: 1)])).Message.ShouldContain("7 to 8 o'clock");
        Refusal.OfEntry("blocks[0].piece", () => Cleared().Take(pieces, [Some.Block("A", "07:00-08:00", piece: 0)])).Message.ShouldContain("1 to 2");
        Refusal.OfEntry("blocks[0].piece", () => Cleared().Take(pieces, [Some.Block("A", "07:00-08:00", piece: 3)]));
        Cleared().Take(pieces, [Some.Block("A", "07:00-09:00", piece: 2)]).Case.StageOf(2).BlockOf("A").PieceNumber.ShouldBe(2);
    }

    [Fact]
    public void A_stage_has_at_most_so_many_blocks()
    {
        var labels = from letter in Enumerable.Range('A', 26) from digit in Enumerable.Range(0, 10) select $"{(char)letter}{digit}";
        BlockEntry[] entries = [.. labels.Take(RecordLimits.Blocks + 1).Select(label => Some.Block(label, "12:00-06:00"))];
        Refusal.OfEntry("blocks", () => Some.Case().Take(Some.Whole(), entries));
        var surgicalCase = Some.Case().Take(Some.Whole(), entries[..RecordLimits.Blocks]);
        Refusal.OfEntry("label", () => surgicalCase.Add(1, entries[^1]));
    }

    [Fact]
    public void Ink_is_kept_as_a_short_word()
    {
        var block = Some.Case().Take(Some.Whole(), Some.Block("A", "12:00-06:00") with { FromInk = "blue", ToInk = "red" }).Case.StageOf(1).BlockOf("A");
        (block.FromInk, block.ToInk).ShouldBe(("blue", "red"));
        var inkless = new BlockEntry("A", Some.Arc("12:00-06:00"), false, " ", new string('x', Block.LongestInk + 1));
        Refusal.OfEntry("blocks[0].toInk", () => Some.Case().Take(Some.Whole(), inkless));
        Some.Case().Take(Some.Whole(), inkless with { ToInk = null }).Case.StageOf(1).BlockOf("A").FromInk.ShouldBeNull();
    }

    private static CaseLog Cleared() => Some.Case().Take(Some.Whole(), Some.Block("A", "12:00-12:00", centre: true)).Read(1, "A");
}
