using CsCheck;
using StagedMargins.Core.ClockFace;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Tests.Mapping;

/// <summary>An arc cut into blocks of nearly one size.</summary>
public sealed class SuggestedBlocksTests
{
    private static readonly Gen<(ClockArc Arc, int Count)> Cuts =
        Gen.Select(Gen.Int[0, 719], Gen.Int[1, 720], Gen.Int[1, 52], (from, minutes, count) => (ClockArc.Starting(new ClockPosition(from), minutes), Math.Min(count, minutes)));

    [Fact]
    public void The_blocks_take_the_whole_arc_and_nothing_else() => Cuts.Sample(cut =>
    {
        var blocks = SuggestedBlocks.Cut(cut.Arc, cut.Count);
        blocks.Count.ShouldBe(cut.Count);
        blocks.Sum(block => block.Arc.Minutes).ShouldBe(cut.Arc.Minutes);
        blocks[0].Arc.From.ShouldBe(cut.Arc.From);
        blocks[^1].Arc.To.ShouldBe(cut.Arc.To);
        blocks.Zip(blocks.Skip(1)).ShouldAllBe(pair => pair.First.Arc.To == pair.Second.Arc.From);
        (blocks.Max(block => block.Arc.Minutes) - blocks.Min(block => block.Arc.Minutes)).ShouldBeLessThanOrEqualTo(1);
        blocks.Select(block => block.Label).ShouldBeUnique();
    });

    // Common practice, no source: by its two inks one sees which way round a block lies, and by the shared one which is its neighbour.
    [Fact]
    public void A_block_has_two_inks_and_shares_each_with_its_neighbour() => Cuts.Sample(cut =>
    {
        var blocks = SuggestedBlocks.Cut(cut.Arc, cut.Count);
        blocks.ShouldAllBe(block => block.FromInk != block.ToInk);
        blocks.Zip(blocks.Skip(1)).ShouldAllBe(pair => pair.First.ToInk == pair.Second.FromInk);
        if (cut.Arc.IsWhole && cut.Count > 1)
        {
            blocks[^1].ToInk.ShouldBe(blocks[0].FromInk);
        }
    });

    [Theory]
    [InlineData(0)]
    [InlineData(3)]
    public void An_arc_of_two_minutes_is_not_cut_into_none_or_three(int count) =>
        Should.Throw<InvalidEntryException>(() => SuggestedBlocks.Cut(ClockArc.Parse("03:00", "03:02"), count)).Field.ShouldBe("count");

    [Theory]
    [InlineData(0, "A")]
    [InlineData(25, "Z")]
    [InlineData(26, "AA")]
    [InlineData(51, "AZ")]
    public void Labels_go_on_after_z(int place, string label) => SuggestedBlocks.LabelOf(place).ShouldBe(label);
}
