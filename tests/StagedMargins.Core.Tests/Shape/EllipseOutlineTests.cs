using CsCheck;
using StagedMargins.Core.ClockFace;
using StagedMargins.Core.Shape;

namespace StagedMargins.Core.Tests.Shape;

public sealed class EllipseOutlineTests
{
    [Fact]
    public void The_closed_forms_of_the_perimeter_agree_with_each_other()
    {
        ClosedForm.EllipsePerimeter(14, 10).ShouldBe(ClosedForm.EllipsePerimeterByRamanujan(14, 10), 1e-7);
        ClosedForm.EllipsePerimeter(20, 20).ShouldBe(20 * Math.PI, 1e-9);
        ClosedForm.EllipsePerimeter(40, 10).ShouldBe(ClosedForm.EllipsePerimeterByRamanujan(40, 10), 1e-3);
    }

    [Fact]
    public void The_usual_first_layer_has_its_published_figures()
    {
        // The example of the service's interface: 14 × 10 mm, and a lesion of 9 × 7 mm before surgery.
        var size = Wound.Of(Some.Ellipse(14, 10, "12:00")).Size;
        size.AreaMm2.ShouldBe(109.96, 0.005);
        size.PerimeterMm.ShouldBe(37.96, 0.005);
        size.LengthMm.ShouldBe(14.0, 0.0005);
        size.WidthMm.ShouldBe(10.0, 0.0005);
        size.Plane.ShouldBeNull();
        size.GrowthFrom(Some.Lesion(9, 7).AreaMm2()).ShouldBe(2.22, 0.005);
        size.GrowthFrom(Some.Lesion(9, 7).AreaMm2()).ShouldBe(14.0 * 10 / (9 * 7), 0.0005);
    }

    [Fact]
    public void Every_ellipse_has_the_measures_of_its_closed_forms_whichever_way_it_lies() =>
        Gen.Select(Gen.Int[2, 1_000], Gen.Int[2, 1_000], Gen.Int[0, 719]).Where((length, width, _) => length < 8 * width && width < 8 * length).Sample((length, width, axis) =>
        {
            var (l, w) = (length / 10m, width / 10m);
            var size = Wound.Of(new EllipseOutline(Some.Mm(l), Some.Mm(w), new ClockPosition(axis))).Size;
            size.AreaMm2.ShouldBeWithin(ClosedForm.EllipseArea((double)l, (double)w), ClosedForm.Tight);
            size.PerimeterMm.ShouldBeWithin(ClosedForm.EllipsePerimeter((double)l, (double)w), ClosedForm.Tight);
            size.LengthMm.ShouldBeWithin((double)Math.Max(l, w), ClosedForm.Tight);

            // A circle's polygon has no one longest way across, and its width is that of the polygon.
            size.WidthMm.ShouldBeWithin((double)Math.Min(l, w), 2 * ClosedForm.Tight);
        }, iter: 60);

    [Theory]
    [InlineData("12:00", 0, 7)]
    [InlineData("03:00", 7, 0)]
    [InlineData("06:00", 0, 7)]
    [InlineData("01:30", 4.949747, 4.949747)]
    [InlineData("10:30", 4.949747, 4.949747)]
    public void The_axis_points_on_the_clock_face_with_y_toward_twelve_and_x_toward_three(string axis, double x, double y)
    {
        var polygon = Some.Ellipse(14, 2, axis).ToPolygon();
        var tips = polygon.Coordinates.Where(point => Math.Sqrt((point.X * point.X) + (point.Y * point.Y)) > 6.9999).ToList();
        tips.ShouldNotBeEmpty();
        tips.ShouldAllBe(tip => Math.Abs(Math.Abs(tip.X) - x) < 0.01 && Math.Abs(Math.Abs(tip.Y) - y) < 0.01);
        tips.ShouldAllBe(tip => axis != "01:30" || tip.X * tip.Y > 0);
        tips.ShouldAllBe(tip => axis != "10:30" || tip.X * tip.Y < 0);
    }

    [Fact]
    public void There_is_no_wound_before_the_first_layer()
    {
        Defect.After([]).ShouldBeNull();
        Defect.Each([]).ShouldBeEmpty();
    }
}
