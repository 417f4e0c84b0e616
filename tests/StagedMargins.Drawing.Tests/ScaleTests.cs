using CsCheck;
using StagedMargins.Drawing.Face;
using StagedMargins.Drawing.Primitives;
using StagedMargins.Drawing.Tests.Testing;

namespace StagedMargins.Drawing.Tests;

public class ScaleTests
{
    [Theory]
    [InlineData("small", "2 mm")]
    [InlineData("one-positive", "5 mm")]
    [InlineData("large", "50 mm")]
    public void The_bar_is_as_long_as_it_says(string trial, string words)
    {
        foreach (var detail in Enum.GetValues<MapDetail>())
        {
            var scene = MapScene.Of(SampleMaps.Of(trial), detail);
            var bar = scene.Only(SceneRole.ScaleBar);
            var line = bar.Paths.Single().Contours[0].Points;

            (line[1].X - line[0].X).ShouldBe(double.Parse(bar.Name[..^3], System.Globalization.CultureInfo.InvariantCulture) * scene.UnitsPerMm, 1e-6);
        }

        MapScene.Of(SampleMaps.Of(trial)).Only(SceneRole.ScaleBar).Name.ShouldBe(words);
    }

    [Fact]
    public void A_round_length_is_1_2_or_5_times_a_power_of_ten_and_the_longest_that_fits() =>
        Gen.Double[0.01, 900].Sample(longest =>
        {
            var mm = ScaleBar.RoundLengthMm(longest);
            var digit = Math.Round(mm / Math.Pow(10, Math.Floor(Math.Log10(mm * 1.0000001))));
            return mm <= longest * 1.0000001 && mm * 2.5 >= longest && digit is 1 or 2 or 5;
        });

    [Fact]
    public void The_outline_has_the_wounds_size()
    {
        var scene = MapScene.Of(SampleMaps.OnePositive().Map());
        var box = SceneBox.Around(scene.Only(SceneRole.Outline).Points());

        // The ellipse of 14 × 10 mm, long axis to 12 o'clock, about the middle of the face.
        (box.Height / scene.UnitsPerMm).ShouldBe(14, 0.001);
        (box.Width / scene.UnitsPerMm).ShouldBe(10, 0.001);
        ((box.Left + box.Right) / 2).ShouldBe(scene.FaceMiddle.X, 0.001);
        ((box.Top + box.Bottom) / 2).ShouldBe(scene.FaceMiddle.Y, 0.001);
    }

    [Fact]
    public void The_targets_length_is_the_arc_of_a_round_wound()
    {
        // Closed form: radius 10 mm, target 02:15–04:45 is 150 clock minutes or 75°, so 10 · 75π/180 = 13.09 mm.
        var to = Some.Case().Taken([Some.Ellipse(20, 20)], [Some.Block("A", "12:00", "12:00", centre: true)])
            .Tumour("A", Some.Edge("02:30", "04:30"));
        var scene = MapScene.Of(to.Map(cumulative: true));

        scene.WithRole(SceneRole.Key).ShouldContain(row => row.Name == "Target of the next layer: peripheral margin, 2:15–4:45 o'clock (13.1 mm along the outline)");
    }

    [Fact]
    public void The_target_of_a_whole_round_edge_is_its_circumference()
    {
        // Closed form: 2π · 10 mm = 62.83 mm.
        var to = Some.Case().Taken([Some.Ellipse(20, 20)], [Some.Block("A", "12:00", "12:00", centre: true)])
            .Tumour("A", Some.Edge("12:00", "12:00"));

        MapScene.Of(to.Map()).WithRole(SceneRole.Key).ShouldContain(row => row.Name.Contains("peripheral margin, all around (62.8 mm along the outline)"));
    }

    [Fact]
    public void A_layer_of_base_alone_leaves_the_outline_as_it_was()
    {
        var to = SampleMaps.BaseLayer();
        var before = MapScene.Of(to.Map(cumulative: true, stage: 1));
        var after = MapScene.Of(to.Map(cumulative: true, stage: 2));

        static IEnumerable<(double, double)> Millimetres(MapScene scene) => scene.Only(SceneRole.Outline).Points()
            .Select(at => (Math.Round((at.X - scene.FaceMiddle.X) / scene.UnitsPerMm, 6), Math.Round((at.Y - scene.FaceMiddle.Y) / scene.UnitsPerMm, 6)));

        Millimetres(after).ShouldBe(Millimetres(before));
        after.WithRole(SceneRole.Layer).Last().Name.ShouldBe("Stage 2: base 12:30–3:00 o'clock, the centre");
        after.WithRole(SceneRole.Layer).Last().Paths.Count().ShouldBe(2);
    }

    [Fact]
    public void Numerals_stand_clockwise_at_their_hours()
    {
        foreach (var detail in Enum.GetValues<MapDetail>())
        {
            var scene = MapScene.Of(SampleMaps.Of("no-stage"), detail);
            scene.WithRole(SceneRole.Numeral).Count().ShouldBe(12);
            foreach (var numeral in scene.WithRole(SceneRole.Numeral))
            {
                var box = numeral.Texts.Single().Box;
                var hour = int.Parse(numeral.Name, System.Globalization.CultureInfo.InvariantCulture);
                var off = scene.Minutes(new ScenePoint((box.Left + box.Right) / 2, (box.Top + box.Bottom) / 2)) - (hour % 12 * 60);
                (((off + 1080) % 720) - 360).ShouldBe(0, 3);
            }
        }
    }
}
