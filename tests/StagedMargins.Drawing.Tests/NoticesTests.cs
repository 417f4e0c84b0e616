using StagedMargins.Core.Wording;
using StagedMargins.Drawing.Primitives;
using StagedMargins.Drawing.Tests.Testing;

namespace StagedMargins.Drawing.Tests;

/// <summary>What stands above the face when evidence raised questions.</summary>
public class NoticesTests
{
    [Fact]
    public void An_open_review_is_said_on_the_map_and_the_place_is_unread()
    {
        var scene = MapScene.Of(SampleMaps.Of("permanent-differs"));

        scene.Only(SceneRole.Alert).Name.ShouldStartWith("Permanent sections differ: stage 1 block B.");
        scene.WithRole(SceneRole.Unread).ShouldHaveSingleItem().Name.ShouldBe("Unread, peripheral margin, 8:00–8:40 o'clock");
        scene.Only(SceneRole.State).Name.ShouldNotBe("Cleared");
    }

    [Fact]
    public void A_case_that_ended_clear_and_is_not_clear_now_says_so()
    {
        MapScene.Of(SampleMaps.Of("recall")).WithRole(SceneRole.Alert).First().Name.ShouldBe(Sentences.ClosedAsClear);
    }

    [Theory]
    [InlineData(MapDetail.Full)]
    [InlineData(MapDetail.Compact)]
    public void Many_notices_are_folded_into_one_line_so_that_the_face_stays_where_four_would_leave_it(MapDetail detail)
    {
        var scene = MapScene.Of(SampleMaps.Of("many-notices"), detail);
        SceneRole[] roles = [SceneRole.Alert, SceneRole.Recall, SceneRole.Notice, SceneRole.Ending];
        var drawn = scene.Groups.Where(group => roles.Contains(group.Role)).Select(group => group.Name).ToList();

        drawn.Count.ShouldBe(4);
        drawn[0].ShouldBe(Sentences.ClosedAsClear);
        drawn[^1].ShouldBe("And 5 more in the case.");
        scene.Description.Split("Permanent sections differ").Length.ShouldBe(5);
    }

    [Fact]
    public void Tumour_left_behind_and_an_earlier_state_are_never_folded_away()
    {
        var to = SampleMaps.LeftBehind();
        foreach (var label in new[] { "A", "B" })
        {
            to.SendForPermanentSection(1, label, Some.At(60), null, Some.Histotech, Some.At(60));
            to.ReportPermanentSection(1, label, new(label == "A" ? Core.Mapping.ReadingOutcome.Tumour : Core.Mapping.ReadingOutcome.Clear, Some.At(2880)), Some.Surgeon, Some.At(2881));
        }

        to.Taken([Some.Rim("10:00", "11:00")], [], "the patient bled");

        var scene = MapScene.Of(to.Map(stage: 2) with { AsOf = "As it was known on 3 March." });
        scene.WithRole(SceneRole.Notice).Select(notice => notice.Name).ShouldContain("Earlier state, after stage 2 of 3. Do not cut from this map.");
        scene.WithRole(SceneRole.Alert).First().Name.ShouldStartWith("Tumour left behind");
    }
}
