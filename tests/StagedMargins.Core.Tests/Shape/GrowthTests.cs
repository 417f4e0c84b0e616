using CsCheck;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Tests.Shape;

public sealed class GrowthTests
{
    private static readonly Gen<Piece> AnyRim =
        Gen.Select(Gen.OneOf(Gen.Int[0, 719], Gen.Int[0, 11].Select(hour => hour * 60)), Gen.Int[1, 720], Gen.Int[1, 500])
            .Select((from, minutes, width) => Wound.Rim(from, minutes, width / 100m));

    [Fact]
    public void No_layer_makes_the_wound_smaller() => AnyRim.Array[1, 3].Array[1, 5].Sample(
        layers =>
        {
            var each = Wound.Each(Some.Ellipse(), layers);
            for (var i = 1; i < each.Count; i++)
            {
                each[i].Shape.IsValid.ShouldBeTrue();
                each[i].Size.AreaMm2.ShouldBeGreaterThan(each[i - 1].Size.AreaMm2);
                each[i - 1].Shape.Difference(each[i].Shape).Area.ShouldBeLessThan(1e-4);
            }
        },
        iter: 30);

    [Fact]
    public void Even_a_rim_of_ten_micrometres_over_one_minute_adds_tissue()
    {
        var each = Wound.Each(Wound.Circle(5), [Wound.Rim(100, 1, 0.01m)], [Wound.Rim(500, 1, 0.01m)]);
        (each[1].Size.AreaMm2 - each[0].Size.AreaMm2).ShouldBe(ClosedForm.Strip(5, 0.01, 1), 5e-5);
        (each[2].Size.AreaMm2 - each[1].Size.AreaMm2).ShouldBe(ClosedForm.Strip(5, 0.01, 1), 5e-5);
    }

    [Fact]
    public void A_wider_or_longer_rim_takes_more() => Gen.Select(Gen.Int[0, 719], Gen.Int[1, 600], Gen.Int[5, 40]).Sample(
        (from, minutes, width) =>
        {
            var narrow = Wound.Of(Some.Ellipse(), [Wound.Rim(from, minutes, width / 10m)]).Size.AreaMm2;
            Wound.Of(Some.Ellipse(), [Wound.Rim(from, minutes, (width + 1) / 10m)]).Size.AreaMm2.ShouldBeGreaterThan(narrow);
            Wound.Of(Some.Ellipse(), [Wound.Rim(from, minutes + 60, width / 10m)]).Size.AreaMm2.ShouldBeGreaterThan(narrow);
        },
        iter: 30);

    [Theory]
    [InlineData(5, 0.25, 720)]
    [InlineData(5, 1, 720)]
    [InlineData(0.5, 0.5, 720)]
    [InlineData(5, 1, 150)]
    [InlineData(10, 2, 500)]
    public void Forty_stages_of_rims_stay_with_the_closed_form_of_the_circle(double radius, double width, int minutes)
    {
        Piece[][] layers = [.. Enumerable.Repeat<Piece[]>([Wound.Rim(600, minutes, (decimal)width)], RecordLimits.Stages - 1)];
        var last = Wound.Of(Wound.Circle((decimal)radius), layers);
        last.Size.AreaMm2.ShouldBeWithin(ClosedForm.CircleWithRim(radius, width * layers.Length, minutes), 0.001);
        last.Size.PerimeterMm.ShouldBeWithin(ClosedForm.PerimeterWithRim(radius, width * layers.Length, minutes), 0.001);
        last.Shape.NumPoints.ShouldBeLessThan(2_500);
    }

    [Fact]
    public void Forty_stages_of_rims_anywhere_stay_small()
    {
        // Places by the golden angle, so that the rims fall everywhere and never twice alike.
        Piece[][] layers = [.. Enumerable.Range(0, RecordLimits.Stages - 1).Select<int, Piece[]>(i => [Wound.Rim(i * 275 % 720, 60 + (i * 37 % 300), 1.3m)])];
        var each = Wound.Each(Some.Ellipse(), layers);
        each.Max(defect => defect.Shape.NumPoints).ShouldBeLessThan(3_000);
        each.ShouldAllBe(defect => defect.Shape.GeometryType == "Polygon");
    }

    [Fact]
    public void A_trace_of_5000_shaky_points_takes_several_rims()
    {
        // Widened directly, such an edge would take minutes: the time grows with the square of its teeth.
        var shaky = Wound.Trace(RecordLimits.TracePoints, i => 20 + (i * 7919 % 1000 / 1000.0));
        var toothed = Wound.Trace(1_000, i => i % 2 == 0 ? 5 : 200);
        Piece[][] layers = [[Wound.Rim(0, 240, 2), Wound.Rim(300, 120, 2)], [Wound.Rim(60, 300, 1)]];
        Wound.Of(shaky, layers).Size.LengthMm.ShouldBeInRange(44, 48);
        Wound.Of(toothed, layers).Size.LengthMm.ShouldBeInRange(402, 406);
    }

    [Fact]
    public void A_shaky_edge_is_widened_to_the_shape_of_its_tips()
    {
        // Teeth 0.1 mm apart and 0.3 mm deep on a circle: their tips lie on 10 mm, and a wide rim joins them to one circle.
        var teeth = Wound.Trace(1_200, i => i % 2 == 0 ? 10 : 9.7);
        var size = Wound.Of(teeth, [Wound.Rim(0, 720, 3)]).Size;
        size.AreaMm2.ShouldBeWithin(Math.PI * 13 * 13, 2 * ClosedForm.Tight);
        size.PerimeterMm.ShouldBeWithin(2 * Math.PI * 13, 0.001);
    }
}
