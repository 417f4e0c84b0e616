using StagedMargins.Core;
using StagedMargins.Core.Wording;
using StagedMargins.Drawing.Primitives;
using StagedMargins.Drawing.Tests.Testing;

namespace StagedMargins.Drawing.Tests;

public class WordsOnTheMapTests
{
    public static TheoryData<string> AllTrials => [.. SampleMaps.Names];

    [Theory]
    [MemberData(nameof(AllTrials))]
    public void The_caution_and_the_direction_of_twelve_stand_on_every_map(string trial)
    {
        foreach (var detail in Enum.GetValues<MapDetail>())
        {
            var request = SampleMaps.Of(trial);
            var scene = MapScene.Of(request, detail);

            // A picture without surround belongs to a page that has the caution in its footer.
            Joined(scene, SceneRole.DisclaimerLine).ShouldBe(request.WithoutSurround ? "" : Sentences.Disclaimer);
            Joined(scene, SceneRole.Orientation).Replace(" ", "", StringComparison.Ordinal)
                .ShouldContain($"12 = {request.Case.TwelveOClock}".Replace(" ", "", StringComparison.Ordinal));
        }
    }

    [Fact]
    public void The_patient_reference_shows_only_where_it_is_asked_for()
    {
        foreach (var detail in Enum.GetValues<MapDetail>())
        {
            MapScene.Of(SampleMaps.AllKinds().Map(), detail).AllWords().ShouldNotContain(Some.PatientRef);
            var asked = MapScene.Of(SampleMaps.AllKinds().Map(showPatientRef: true), detail);
            asked.Only(SceneRole.PatientRef).Texts.Single().Text.ShouldBe($"Patient {Some.PatientRef}");
            (asked.Title + asked.Description).ShouldNotContain(Some.PatientRef);
        }
    }

    [Fact]
    public void The_head_names_case_stage_and_time_with_its_offset()
    {
        var words = Joined(MapScene.Of(SampleMaps.Cleared().Map(stage: 2)), SceneRole.Heading);

        words.ShouldContain("Case 2026-0142");
        words.ShouldContain("Stage 2 of 3: rim 7:45–9:15 o'clock, 2 mm wide");
        words.ShouldContain("Layer taken 2026-03-03 10:00 (UTC−05:00)");
        words.ShouldContain("Site: left, alar crease (C44.3)");
    }

    [Fact]
    public void An_empty_face_says_that_no_layer_was_taken()
    {
        var scene = MapScene.Of(Some.Case().Map());

        scene.Only(SceneRole.NoLayer).Texts.First().Text.ShouldBe("No layer has been taken.");
        scene.Only(SceneRole.State).Name.ShouldBe("No layer taken");
        scene.WithRole(SceneRole.Outline).ShouldBeEmpty();
        scene.WithRole(SceneRole.ScaleBar).ShouldBeEmpty();
        scene.WithRole(SceneRole.Numeral).Count().ShouldBe(12);
    }

    [Fact]
    public void Alerts_stand_loudest_first()
    {
        var scene = MapScene.Of(SampleMaps.Of("long-alerts"));

        scene.WithRole(SceneRole.Alert).Select(alert => alert.Name.Split(':')[0]).ShouldBe(["Tumour left behind", "Not mapped", "Not mapped", "Beyond the target"]);
        scene.WithRole(SceneRole.Alert).First().Name.ShouldContain("peripheral margin, 1 to 1:10,");
    }

    [Fact]
    public void An_earlier_map_warns_that_later_layers_are_recorded()
    {
        MapScene.Of(SampleMaps.Cleared().Map(stage: 1)).WithRole(SceneRole.Notice).ShouldHaveSingleItem()
            .Name.ShouldBe("Earlier state, after stage 1 of 3. Do not cut from this map.");
        MapScene.Of(SampleMaps.Cleared().Map()).WithRole(SceneRole.Notice).ShouldBeEmpty();
    }

    [Fact]
    public void Recall_and_ending_are_shown()
    {
        var scene = MapScene.Of(SampleMaps.Recall().Map(cumulative: true));

        scene.Only(SceneRole.Recall).Name.ShouldStartWith("Recall:");
        scene.Only(SceneRole.Ending).Name.ShouldBe("Case ended: cleared, 2026-03-03 10:40 (UTC−05:00).");
        scene.Only(SceneRole.State).Name.ShouldBe("Tumour outstanding");
    }

    [Fact]
    public void Readings_to_be_countersigned_are_named_by_block()
    {
        var scene = MapScene.Of(SampleMaps.AllKinds().Map());

        scene.Only(SceneRole.Notice).Name.ShouldBe("To be countersigned: stage 1 block C.");
        Joined(scene, SceneRole.BlockTable).ShouldContain(Terms.NotSigned);
    }

    [Fact]
    public void Letters_that_cannot_be_drawn_are_said_to_be_missing()
    {
        var scene = MapScene.Of(Some.Case("頭頂").Map());

        scene.Only(SceneRole.Notice).Name.ShouldContain("can't be drawn");
        MapScene.Of(Some.Case("vers l'œil, à côté").Map()).WithRole(SceneRole.Notice).ShouldBeEmpty();
    }

    [Fact]
    public void Blocks_and_inks_belong_to_the_stages_own_map_and_layers_to_the_map_of_all()
    {
        var own = MapScene.Of(SampleMaps.LeftBehind().Map());
        var all = MapScene.Of(SampleMaps.LeftBehind().Map(cumulative: true));

        own.WithRole(SceneRole.BlockLabel).Select(label => label.Name).ShouldBe(["A"]);
        own.WithRole(SceneRole.Ink).Select(ink => ink.Name).ShouldBe(["green, block A at 7:45 o'clock", "black, block A at 9:15 o'clock"]);
        own.WithRole(SceneRole.InkName).Count().ShouldBe(2);
        own.WithRole(SceneRole.LayerTable).ShouldBeEmpty();
        all.WithRole(SceneRole.BlockLabel).ShouldBeEmpty();
        all.WithRole(SceneRole.Ink).ShouldBeEmpty();
        all.WithRole(SceneRole.LayerTable).ShouldHaveSingleItem();
        all.WithRole(SceneRole.SideLabel).Select(label => label.Name).ShouldContain("Stage 2");
    }

    [Fact]
    public void An_ink_of_an_unknown_name_has_words_but_no_colour()
    {
        var scene = MapScene.Of(SampleMaps.Of("long-words"));

        scene.WithRole(SceneRole.Ink).Select(ink => ink.Name.Split(',')[0]).Distinct().ShouldBe(["red", "blue"], ignoreOrder: true);
        Joined(scene, SceneRole.BlockTable).ShouldContain("chartreuse-nr.4711");
    }

    [Fact]
    public void Every_block_of_fifty_two_is_labelled_on_the_face_and_in_the_table()
    {
        var scene = MapScene.Of(SampleMaps.Of("fifty-two-blocks"));
        var table = scene.Only(SceneRole.BlockTable).Texts.Select(text => text.Text).ToList();

        scene.WithRole(SceneRole.BlockLabel).Select(label => label.Name).Distinct().Count().ShouldBe(52);
        Enumerable.Range(0, 52).Select(Some.Label).ShouldAllBe(label => table.Contains(label));
    }

    [Fact]
    public void Neighbouring_layers_differ_and_are_named_by_stage()
    {
        var layers = MapScene.Of(SampleMaps.Of("six-stages")).WithRole(SceneRole.Layer).ToList();

        layers.Select(layer => layer.Name.Split(':')[0]).ShouldBe(Enumerable.Range(1, 6).Select(n => $"Stage {n}"));
        layers.Zip(layers.Skip(1)).ShouldAllBe(pair => pair.First.Paths.First().Fill != pair.Second.Paths.First().Fill);
    }

    [Fact]
    public void A_stage_that_the_case_does_not_have_is_refused() =>
        Should.Throw<InvalidEntryException>(() => MapScene.Of(SampleMaps.OnePositive().Map(stage: 2)));

    private static string Joined(MapScene scene, SceneRole role) =>
        string.Join(' ', scene.WithRole(role).SelectMany(group => group.Texts).Select(text => text.Text));
}
