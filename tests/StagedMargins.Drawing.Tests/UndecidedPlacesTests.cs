using StagedMargins.Drawing.Primitives;
using StagedMargins.Drawing.Tests.Testing;

namespace StagedMargins.Drawing.Tests;

/// <summary>Places that a reading says were not seen, or not decidable, are drawn as the unread tissue they are, and named.</summary>
public class UndecidedPlacesTests
{
    [Fact]
    public void A_place_not_seen_is_dashed_with_a_question_and_never_like_tumour()
    {
        var scene = MapScene.Of(SampleMaps.Of("undecided"));

        scene.WithRole(SceneRole.Unread).Select(mark => mark.Name).ShouldBe(
        [
            "Not seen, peripheral margin, 1:00–1:40 o'clock", "Not seen, peripheral margin, 8:20–8:50 o'clock", "Seen, not decidable, deep margin, 12:40–1:30 o'clock",
        ]);
        scene.WithRole(SceneRole.Unread).ShouldAllBe(mark => mark.Texts.Any(text => text.Text == "?") && mark.Paths.Any(path => path.Pen!.Dash != null));
        scene.WithRole(SceneRole.Outstanding).ShouldHaveSingleItem().Name.ShouldBe("Tumour, peripheral margin, 7:00–8:00 o'clock");
    }

    [Fact]
    public void The_key_and_the_table_of_readings_say_why_a_place_is_unread()
    {
        var scene = MapScene.Of(SampleMaps.Of("undecided"));
        var key = string.Join('\n', scene.WithRole(SceneRole.Key).Select(row => row.Name));
        var table = string.Join(' ', scene.Only(SceneRole.BlockTable).Texts.Select(text => text.Text));

        key.ShouldContain(". Not seen: peripheral margin, 1:00–1:40, 8:20–8:50 o'clock. Seen, not decidable: deep margin, 12:40–1:30 o'clock");
        table.ShouldContain("not seen at the peripheral margin");
        table.ShouldContain("seen, not decidable at the deep");
    }

    [Fact]
    public void A_later_layer_that_is_not_read_is_unread_and_no_longer_not_seen()
    {
        var to = SampleEvidence.Undecided().Taken([Some.Rim("12:30", "02:00")], [Some.Block("A", "12:30", "02:00")], "the patient bled");
        var scene = MapScene.Of(to.Map(cumulative: true));

        scene.WithRole(SceneRole.Unread).Select(mark => mark.Name).ShouldContain("Unread, peripheral margin, 12:30–2:00 o'clock");
    }

    [Fact]
    public void A_clear_block_with_a_place_not_seen_has_a_dashed_plate()
    {
        var labels = MapScene.Of(SampleMaps.Of("undecided")).WithRole(SceneRole.BlockLabel).ToDictionary(label => label.Name);

        labels["A"].Paths.First().Pen!.Dash.ShouldNotBeNull();
        labels["B"].Paths.First().Pen!.Dash.ShouldBeNull();
    }

    [Fact]
    public void Places_without_more_tissue_are_the_target_and_it_says_so()
    {
        var scene = MapScene.Of(SampleMaps.Of("exhausted"));

        scene.WithRole(SceneRole.Target).ShouldContain(mark => mark.Name.StartsWith("Target; no more tissue to read, peripheral margin, 8:45–12:15", StringComparison.Ordinal));
        scene.WithRole(SceneRole.Key).ShouldContain(row => row.Name.Contains(". No more tissue to read: peripheral margin, 9:00–12:00 o'clock"));
        MapScene.Of(SampleMaps.OnePositive().Map()).AllWords().ShouldNotContain("no more tissue");
    }
}
