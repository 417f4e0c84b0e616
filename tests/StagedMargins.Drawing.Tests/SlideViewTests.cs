using StagedMargins.Drawing.Primitives;
using StagedMargins.Drawing.Tests.Testing;

namespace StagedMargins.Drawing.Tests;

/// <summary>The slide view is the patient view in a mirror, words excepted, and no one can take one for the other.</summary>
public class SlideViewTests
{
    [Fact]
    public void Nine_oclock_lies_right_of_the_centre_and_twelve_stays_up()
    {
        var to = Some.Case().Taken([Some.Ellipse()], [Some.Block("A", "12:00", "12:00", centre: true)])
            .Tumour("A", Some.Edge("08:50", "09:10"), Some.Edge("02:50", "03:10"), Some.Edge("11:50", "12:10"));
        var scene = MapScene.Of(Slide(to.Map()));
        var marks = scene.WithRole(SceneRole.Outstanding).ToDictionary(mark => mark.Arc!.Value.ToString());

        marks["08:50–09:10"].Filled().ShouldAllBe(at => at.X > scene.FaceMiddle.X + 100);
        marks["02:50–03:10"].Filled().ShouldAllBe(at => at.X < scene.FaceMiddle.X - 100);
        marks["11:50–12:10"].Filled().ShouldAllBe(at => at.Y < scene.FaceMiddle.Y - 100);
    }

    [Theory]
    [InlineData("all-kinds")]
    [InlineData("left-behind-cumulative")]
    [InlineData("traced")]
    [InlineData("over-twelve")]
    public void Every_shape_of_the_wound_is_mirrored_about_twelve(string trial)
    {
        SceneRole[] onTheWound = [SceneRole.Layer, SceneRole.Outline, SceneRole.CutLine, SceneRole.Ink, SceneRole.Outstanding, SceneRole.Target];
        var (patient, slide) = (MapScene.Of(SampleMaps.Of(trial)), MapScene.Of(Slide(SampleMaps.Of(trial))));
        foreach (var role in onTheWound)
        {
            var (seen, mirrored) = (patient.WithRole(role).ToList(), slide.WithRole(role).ToList());
            mirrored.Select(group => group.Name).ShouldBe(seen.Select(group => group.Name));
            foreach (var (one, other) in seen.Zip(mirrored))
            {
                var drop = slide.FaceMiddle.Y - patient.FaceMiddle.Y;
                Box(other.Solid()).ShouldBeNear(Mirrored(Box(one.Solid()), patient.FaceMiddle.X, drop));
            }
        }
    }

    [Fact]
    public void Numerals_run_counter_clockwise_and_are_not_mirrored_themselves()
    {
        var scene = MapScene.Of(Slide(SampleMaps.Of("one-positive")));
        var three = scene.WithRole(SceneRole.Numeral).Single(group => group.Name == "3").Texts.ShouldHaveSingleItem();

        three.Text.ShouldBe("3");
        three.Box.Right.ShouldBeLessThan(scene.FaceMiddle.X - 100);
        scene.WithRole(SceneRole.Numeral).Single(group => group.Name == "9").Texts.Single().Box.Left.ShouldBeGreaterThan(scene.FaceMiddle.X + 100);
    }

    [Theory]
    [InlineData(MapDetail.Full)]
    [InlineData(MapDetail.Compact)]
    public void Each_view_says_its_name_in_the_picture_its_title_and_its_description(MapDetail detail)
    {
        var (patient, slide) = (MapScene.Of(SampleMaps.Of("one-positive"), detail), MapScene.Of(Slide(SampleMaps.Of("one-positive")), detail));

        slide.Only(SceneRole.View).Texts.Single().Text.ShouldBe("Slide view: mirrored; 3 o'clock on the left");
        patient.Only(SceneRole.View).Texts.Single().Text.ShouldBe("Patient view: 3 o'clock on the right");
        slide.Title.ShouldEndWith("slide view");
        patient.Title.ShouldEndWith("patient view");
        slide.Description.ShouldStartWith("Slide view: mirrored");
        patient.AllWords().ShouldNotContain("lide view");
        slide.AllWords().ShouldContain("Never cut from this view.");
    }

    [Fact]
    public void Words_lie_on_the_page_and_apart_from_one_another_in_every_trial()
    {
        foreach (var trial in SampleMaps.Names)
        {
            var scene = MapScene.Of(Slide(SampleMaps.Of(trial)));
            var labels = scene.WithRole(SceneRole.SideLabel).SelectMany(group => group.Texts).Select(text => text.Box).ToList();
            labels.ShouldAllBe(box => box.Left >= 0 && box.Right <= scene.Width, trial);
            labels.ShouldAllBe(box => labels.Count(other => other.Overlaps(box)) == 1, trial);
        }
    }

    [Theory]
    [InlineData(MapDetail.Full)]
    [InlineData(MapDetail.Compact)]
    public void A_picture_without_surround_leaves_out_what_the_page_says_and_keeps_view_marks_and_key(MapDetail detail)
    {
        var request = SampleMaps.Of("left-behind-cumulative");
        var (whole, bare) = (MapScene.Of(request, detail), MapScene.Of(request with { WithoutSurround = true }, detail));

        SceneRole[] left = [SceneRole.Heading, SceneRole.State, SceneRole.Alert, SceneRole.Notice, SceneRole.DisclaimerLine];
        left.ShouldAllBe(role => !bare.WithRole(role).Any());
        bare.Height.ShouldBeLessThan(whole.Height - 50);
        SceneRole[] kept = [SceneRole.View, SceneRole.Orientation, SceneRole.Outstanding, SceneRole.Target, SceneRole.Key, SceneRole.ScaleBar];
        kept.ShouldAllBe(role => bare.WithRole(role).Count() == whole.WithRole(role).Count() && bare.WithRole(role).Any());
        bare.Description.ShouldBe(whole.Description);
    }

    private static MapRequest Slide(MapRequest request) => request with { View = MapView.Slide };

    private static SceneBox Box(IEnumerable<ScenePoint> points) => SceneBox.Around(points);

    private static SceneBox Mirrored(SceneBox box, double about, double drop) =>
        new((2 * about) - box.Right, box.Top + drop, (2 * about) - box.Left, box.Bottom + drop);
}

/// <summary>What these tests ask of shapes.</summary>
internal static class MirrorQueries
{
    /// <summary>Points of shapes and lines but not of hatches, which keep their slant.</summary>
    internal static IEnumerable<ScenePoint> Solid(this SceneGroup group) => group.Role is SceneRole.Outstanding or SceneRole.Target
        ? group.Filled()
        : group.Points();

    internal static void ShouldBeNear(this SceneBox box, SceneBox expected)
    {
        box.Left.ShouldBe(expected.Left, 0.001);
        box.Top.ShouldBe(expected.Top, 0.001);
        box.Right.ShouldBe(expected.Right, 0.001);
        box.Bottom.ShouldBe(expected.Bottom, 0.001);
    }
}
