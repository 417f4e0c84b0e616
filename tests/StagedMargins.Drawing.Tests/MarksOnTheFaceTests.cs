using CsCheck;
using StagedMargins.Core.ClockFace;
using StagedMargins.Core.Mapping;
using StagedMargins.Drawing.Primitives;
using StagedMargins.Drawing.Tests.Testing;

namespace StagedMargins.Drawing.Tests;

public class MarksOnTheFaceTests
{
    [Fact]
    public void A_positive_arc_lies_between_its_clock_positions()
    {
        var scene = MapScene.Of(SampleMaps.OnePositive().Map());
        var tumour = scene.Only(SceneRole.Outstanding);

        var minutes = tumour.Filled().Select(scene.Minutes).ToList();

        minutes.Min().ShouldBe(450, 0.5);
        minutes.Max().ShouldBe(540, 0.5);
        tumour.Name.ShouldBe("Tumour, peripheral margin, 7:30–9:00 o'clock");
        tumour.Place.ShouldBe(MarkPlace.Peripheral);
    }

    [Fact]
    public void Any_arc_of_tumour_is_drawn_over_its_own_minutes_and_no_others() =>
        Gen.Select(Gen.Int[0, 719], Gen.Int[1, 400]).Sample(
            (from, length) =>
            {
                var arc = ClockArc.Starting(new ClockPosition(from), length);
                var to = Some.Case().Taken([Some.Ellipse(20, 12, "02:00")], [Some.Block("A", "12:00", "12:00", centre: true)])
                    .Tumour("A", new FindingEntry(FindingKind.Tumour, Margin.Peripheral, arc, null, false));
                var scene = MapScene.Of(to.Map());

                // Counted from the arc's own beginning, so that an arc over 12 o'clock is no special case.
                var past = scene.Only(SceneRole.Outstanding).Filled().Select(at => (scene.Minutes(at) - from + 1080) % 720 - 360).ToList();
                var low = past.Select(m => m < -1 ? m + 720 : m).Min();
                var high = past.Select(m => m < -1 ? m + 720 : m).Max();
                return Math.Abs(low) < 0.5 && Math.Abs(high - length) < 0.5;
            },
            iter: 60);

    [Fact]
    public void An_arc_over_twelve_is_one_mark_that_spans_twelve()
    {
        var scene = MapScene.Of(SampleMaps.OverTwelve().Map());
        var edge = scene.WithRole(SceneRole.Outstanding).Single(mark => mark.Place == MarkPlace.Peripheral);

        edge.Arc.ShouldBe(Some.Arc("11:00", "01:00"));
        var minutes = edge.Filled().Select(scene.Minutes).ToList();
        minutes.ShouldContain(m => m > 700);
        minutes.ShouldContain(m => m < 20);
        minutes.ShouldAllBe(m => m > 659 || m < 61);
    }

    [Fact]
    public void Three_oclock_is_to_the_right_and_twelve_above()
    {
        var to = Some.Case().Taken([Some.Ellipse()], [Some.Block("A", "12:00", "12:00", centre: true)])
            .Tumour("A", Some.Edge("02:50", "03:10"), Some.Edge("11:50", "12:10"));
        var scene = MapScene.Of(to.Map());
        var marks = scene.WithRole(SceneRole.Outstanding).ToDictionary(mark => mark.Arc!.Value.ToString());

        marks["02:50–03:10"].Filled().ShouldAllBe(at => at.X > scene.FaceMiddle.X + 100);
        marks["11:50–12:10"].Filled().ShouldAllBe(at => at.Y < scene.FaceMiddle.Y - 100);
    }

    [Fact]
    public void Tumour_is_hatched_and_inflammation_dotted_and_unread_dashed_with_a_question()
    {
        var scene = MapScene.Of(SampleMaps.AllKinds().Map());

        var tumour = scene.WithRole(SceneRole.Outstanding).First();
        tumour.Paths.ShouldContain(path => path.Fill == Palette.TumourTint);
        tumour.Paths.ShouldContain(path => path.Fill == null && path.Contours.Count > 3 && path.Contours.All(line => !line.Closed));
        var caution = scene.WithRole(SceneRole.Inflammation).First();
        caution.Paths.ShouldContain(path => path.Contours.Count > 3 && path.Contours.All(dot => dot.Points[1].X - dot.Points[0].X < 0.1));
        foreach (var unread in scene.WithRole(SceneRole.Unread))
        {
            unread.Paths.ShouldContain(path => path.Pen != null && path.Pen.Dash != null);
            unread.Texts.ShouldContain(text => text.Text == "?");
        }
    }

    [Fact]
    public void The_target_lies_outside_the_edge_and_the_tumour_inside_it()
    {
        var scene = MapScene.Of(SampleMaps.OnePositive().Map());

        scene.Only(SceneRole.Target).Filled().ShouldAllBe(at => Ellipse(scene, at) > 1.01);
        scene.Only(SceneRole.Outstanding).Filled().ShouldAllBe(at => Ellipse(scene, at) < 1.0001);
    }

    [Fact]
    public void Floor_and_centre_are_marked_apart_from_the_edge()
    {
        var scene = MapScene.Of(SampleMaps.WholePositive().Map(cumulative: true));
        var tumour = scene.WithRole(SceneRole.Outstanding).ToDictionary(mark => mark.Place!.Value);
        var target = scene.WithRole(SceneRole.Target).ToDictionary(mark => mark.Place!.Value);

        tumour.Count.ShouldBe(3);
        target.Count.ShouldBe(3);
        double Nearest(SceneGroup mark) => mark.Filled().Min(scene.Distance);
        double Farthest(SceneGroup mark) => mark.Filled().Max(scene.Distance);
        Farthest(tumour[MarkPlace.Centre]).ShouldBeLessThan(Nearest(target[MarkPlace.Centre]));
        Farthest(target[MarkPlace.Centre]).ShouldBeLessThan(Nearest(tumour[MarkPlace.Deep]));
        Farthest(target[MarkPlace.Deep]).ShouldBeLessThan(Nearest(tumour[MarkPlace.Peripheral]));
        Farthest(tumour[MarkPlace.Peripheral]).ShouldBeLessThan(Farthest(target[MarkPlace.Peripheral]));
    }

    [Fact]
    public void Everything_is_unread_before_the_first_reading()
    {
        var scene = MapScene.Of(SampleMaps.Of("unread"));

        scene.WithRole(SceneRole.Unread).Select(mark => mark.Name).ShouldBe(
            ["Unread, peripheral margin, all around", "Unread, deep margin, all around", "Unread, deep margin, the centre"]);
        scene.WithRole(SceneRole.Outstanding).ShouldBeEmpty();
        scene.Only(SceneRole.State).Name.ShouldBe("Awaiting readings");
    }

    [Fact]
    public void A_cleared_map_has_no_mark_left()
    {
        var scene = MapScene.Of(SampleMaps.Cleared().Map(cumulative: true));

        scene.Groups.ShouldAllBe(group => group.Place == null);
        scene.Only(SceneRole.State).Name.ShouldBe("Cleared");
    }

    [Fact]
    public void A_stages_own_map_keeps_what_an_earlier_stage_left()
    {
        var scene = MapScene.Of(SampleMaps.LeftBehind().Map());

        scene.Only(SceneRole.Outstanding).Name.ShouldBe("Tumour, peripheral margin, 7:30–7:45 o'clock, from an earlier stage");
    }

    [Fact]
    public void Perineural_invasion_is_named_as_such()
    {
        var scene = MapScene.Of(SampleMaps.AllKinds().Map());

        scene.WithRole(SceneRole.Outstanding).ShouldContain(mark => mark.Name == "Perineural invasion, peripheral margin, 12:40–1:50 o'clock");
    }

    [Fact]
    public void A_mark_that_ends_where_a_rim_begins_has_no_line_along_the_rims_side()
    {
        var scene = MapScene.Of(SampleMaps.LeftBehind().Map(cumulative: true));
        var tumour = scene.Only(SceneRole.Outstanding);

        // The rim's side at 07:45 lies outside the ellipse, and the tumour inside it.
        tumour.Filled().ShouldAllBe(at => Ellipse(scene, at) < 1.001);
        foreach (var ring in tumour.Paths.Where(path => path.Fill is not null).SelectMany(path => path.Contours))
        {
            ring.Area().ShouldBeGreaterThan(1);
        }
    }

    // Worked example of the margins: an ellipse of 14 × 10 mm. Below 1 is inside.
    private static double Ellipse(MapScene scene, ScenePoint at)
    {
        var (x, y) = ((at.X - scene.FaceMiddle.X) / scene.UnitsPerMm, (at.Y - scene.FaceMiddle.Y) / scene.UnitsPerMm);
        return (x * x / 25) + (y * y / 49);
    }
}
