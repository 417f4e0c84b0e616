using StagedMargins.Drawing.Primitives;
using StagedMargins.Drawing.Tests.Testing;

namespace StagedMargins.Drawing.Tests;

/// <summary>A stage's own map tells its pieces apart, and shows each block on the margins that it shows.</summary>
public class PiecesOnTheMapTests
{
    [Fact]
    public void A_base_that_is_not_read_is_unread_in_its_own_piece_however_clear_the_rim_over_it_is()
    {
        var scene = MapScene.Of(SampleMaps.Of("rim-and-base"));

        scene.WithRole(SceneRole.Unread).ShouldHaveSingleItem().Name.ShouldBe("Unread in piece 2 (base), deep margin, 1:15–3:15 o'clock");
    }

    [Fact]
    public void A_rim_that_is_not_read_leaves_its_edge_and_its_own_floor_unread()
    {
        var to = SampleEvidence.RimAndBase();
        to.WithdrawReading(to.Case.Stages[1].Blocks[0].CountingReading!.Id, "wrong slide", Some.Surgeon, Some.At(95));
        to.Clear("B");

        MapScene.Of(to.Map()).WithRole(SceneRole.Unread).Select(mark => mark.Name).ShouldBe(
            ["Unread in piece 1 (rim), peripheral margin, 1:15–3:15 o'clock", "Unread in piece 1 (rim), deep margin, 1:15–3:15 o'clock"]);
    }

    [Fact]
    public void Tissue_of_one_piece_that_no_block_covers_is_named_by_its_piece()
    {
        var to = SampleEvidence.RimAndBase().Clear("B")
            .Taken(
                [Some.Rim("05:00", "06:00"), Some.Rim("08:00", "09:00")],
                [Some.Block("A", "05:00", "06:00") with { PieceNumber = 1 }])
            .Clear("A");

        MapScene.Of(to.Map()).WithRole(SceneRole.Unread).First().Name.ShouldBe("Unread in piece 2 (rim), peripheral margin, 8:00–9:00 o'clock");
    }

    [Fact]
    public void Labels_and_table_name_the_piece_where_there_are_several()
    {
        var scene = MapScene.Of(SampleMaps.Of("rim-and-base"));
        var table = string.Join(' ', scene.Only(SceneRole.BlockTable).Texts.Select(text => text.Text));

        scene.WithRole(SceneRole.BlockLabel).Select(label => label.Name).ShouldBe(["A·1", "B·2"], ignoreOrder: true);
        table.ShouldContain("piece 2: 1:15–3:15");
        scene.AllWords().ShouldContain("A·1 is block A of piece 1.");
        MapScene.Of(SampleMaps.OnePositive().Map()).WithRole(SceneRole.BlockLabel).Select(label => label.Name).ShouldBe(["A", "B"]);
    }

    [Fact]
    public void The_label_of_a_rim_stands_outside_the_floor_and_that_of_a_base_on_it()
    {
        var scene = MapScene.Of(SampleMaps.Of("rim-and-base"));
        double Distance(string name) => scene.Distance(Middle(scene.WithRole(SceneRole.BlockLabel).Single(label => label.Name == name)));

        Distance("A·1").ShouldBeGreaterThan(Distance("B·2") * 1.3);
    }

    [Fact]
    public void A_replaced_block_is_paler_says_so_and_has_no_ink_of_its_own()
    {
        var scene = MapScene.Of(SampleMaps.Of("replaced"));
        var labels = scene.WithRole(SceneRole.BlockLabel).ToDictionary(label => label.Name);

        labels.Keys.ShouldBe(["A", "B replaced", "C", "D", "E"], ignoreOrder: true);
        labels["B replaced"].Paths.First().Pen!.Colour.ShouldBe(Palette.Hairline);
        scene.WithRole(SceneRole.Ink).ShouldNotContain(ink => ink.Name.Contains("block B"));
        string.Join(' ', scene.Only(SceneRole.BlockTable).Texts.Select(text => text.Text)).ShouldContain("Replaced by C.");
    }

    [Fact]
    public void A_block_that_shows_one_margin_is_cut_on_that_margin_alone()
    {
        var scene = MapScene.Of(SampleMaps.Of("replaced"));
        ILookup<double, double> Along(string block) => scene.WithRole(SceneRole.CutLine).Single(cut => cut.Name == $"Cut lines of block {block}")
            .Points().ToLookup(at => Math.Round(scene.Minutes(at)) % 720, scene.Distance);

        var (edge, floor) = (Along("D"), Along("E"));
        edge[480].Min().ShouldBeGreaterThan(floor[480].Max());
        edge[0].Min().ShouldBeGreaterThan(floor[0].Max());
        scene.WithRole(SceneRole.Unread).Select(mark => mark.Name).ShouldBe(["Unread, deep margin, 8:00–12:00 o'clock", "Unread, deep margin, the centre"]);
    }

    private static ScenePoint Middle(SceneGroup label)
    {
        var box = label.Texts.Single().Box;
        return new ScenePoint((box.Left + box.Right) / 2, (box.Top + box.Bottom) / 2);
    }
}
