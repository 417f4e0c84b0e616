using CsCheck;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Tests.Shape;

public sealed class RimTests
{
    [Theory]
    [InlineData(0, 1)]
    [InlineData(450, 90)]
    [InlineData(690, 60)]
    [InlineData(0, 360)]
    [InlineData(180, 360)]
    [InlineData(300, 500)]
    [InlineData(1, 719)]
    [InlineData(0, 720)]
    [InlineData(200, 720)]
    public void A_rim_on_a_circle_adds_a_sector_of_the_ring(int from, int minutes)
    {
        var size = Wound.Of(Wound.Circle(8), [Wound.Rim(from, minutes, 2)]).Size;
        size.AreaMm2.ShouldBeWithin(ClosedForm.CircleWithRim(8, 2, minutes), ClosedForm.Tight);
        size.PerimeterMm.ShouldBeWithin(ClosedForm.PerimeterWithRim(8, 2, minutes), ClosedForm.Tight);
    }

    [Fact]
    public void Any_rim_on_any_circle_has_the_area_and_perimeter_of_its_closed_form() =>
        Gen.Select(Gen.Int[20, 400], Gen.Int[2, 60], Gen.Int[0, 719], Gen.Int[1, 720]).Sample((radius, width, from, minutes) =>
        {
            var (r, w) = (radius / 10m, width / 10m);
            var size = Wound.Of(Wound.Circle(r), [Wound.Rim(from, minutes, w)]).Size;

            // Chords of half a micrometre weigh more on a small circle.
            size.AreaMm2.ShouldBeWithin(ClosedForm.CircleWithRim((double)r, (double)w, minutes), 5 * ClosedForm.Tight);
            size.PerimeterMm.ShouldBeWithin(ClosedForm.PerimeterWithRim((double)r, (double)w, minutes), 5 * ClosedForm.Tight);
        }, iter: 60);

    [Theory]
    [InlineData(14, 10, 2)]
    [InlineData(20, 6, 3)]
    [InlineData(9, 7, 0.5)]
    public void A_rim_all_round_an_ellipse_follows_steiner_s_formula(double length, double width, double rim)
    {
        var size = Wound.Of(Some.Ellipse((decimal)length, (decimal)width, "10:30"), [Wound.Rim(100, 720, (decimal)rim)]).Size;
        var perimeter = ClosedForm.EllipsePerimeter(length, width);
        size.AreaMm2.ShouldBeWithin(ClosedForm.Widened(ClosedForm.EllipseArea(length, width), perimeter, rim), 2 * ClosedForm.Tight);
        size.PerimeterMm.ShouldBeWithin(perimeter + (2 * Math.PI * rim), 2 * ClosedForm.Tight);
        size.LengthMm.ShouldBeWithin(length + (2 * rim), 2 * ClosedForm.Tight);
        size.WidthMm.ShouldBeWithin(width + (2 * rim), 2 * ClosedForm.Tight);
    }

    [Fact]
    public void A_rim_all_round_a_square_rounds_its_corners()
    {
        var size = Wound.Of(Wound.Trace((-5, -5), (5, -5), (5, 5), (-5, 5)), [Wound.Rim(0, 720, 2)]).Size;
        size.AreaMm2.ShouldBeWithin(ClosedForm.Widened(100, 40, 2), ClosedForm.Tight);
        size.PerimeterMm.ShouldBeWithin(40 + (4 * Math.PI), ClosedForm.Tight);
        size.LengthMm.ShouldBeWithin(Math.Sqrt(200) + 4, ClosedForm.Tight);
    }

    [Fact]
    public void A_rim_on_a_quarter_of_a_square_lies_on_one_side()
    {
        // From 1:30 to 4:30 the wedge meets the right side in its two corners; the sides of the wedge cut the strip at 45°.
        var size = Wound.Of(Wound.Trace((-5, -5), (5, -5), (5, 5), (-5, 5)), [Wound.Rim(90, 180, 2)]).Size;
        var corner = Math.PI * 2 * 2 / 8;
        size.AreaMm2.ShouldBeWithin(100 + (10 * 2) + (2 * corner), ClosedForm.Tight);
    }

    [Theory]
    [InlineData(2, 2)]
    [InlineData(2, 3)]
    [InlineData(3.5, 0.5)]
    public void Neighbouring_rims_join_without_a_gap(double firstWidth, double secondWidth) =>
        Gen.Select(Gen.Int[0, 719], Gen.Int[5, 400], Gen.Int[5, 300]).Sample((from, first, second) =>
        {
            Piece[] layer = [Wound.Rim(from, first, (decimal)firstWidth), Wound.Rim((from + first) % 720, second, (decimal)secondWidth)];
            var size = Wound.Of(Wound.Circle(5), layer).Size;
            var area = (25 * Math.PI) + ClosedForm.Strip(5, firstWidth, first) + ClosedForm.Strip(5, secondWidth, second);
            var arcs = (5 * ClosedForm.Radians(720 - first - second)) + ((5 + firstWidth) * ClosedForm.Radians(first)) + ((5 + secondWidth) * ClosedForm.Radians(second));
            size.AreaMm2.ShouldBeWithin(area, 3 * ClosedForm.Tight);
            size.PerimeterMm.ShouldBeWithin(arcs + firstWidth + secondWidth + Math.Abs(firstWidth - secondWidth), 3 * ClosedForm.Tight);
        }, iter: 30);

    [Fact]
    public void Two_rims_of_one_layer_are_cut_outside_the_same_wound_in_either_order()
    {
        Piece[] layer = [Wound.Rim(90, 200, 2), Wound.Rim(200, 300, 1.5m), Wound.Rim(650, 100, 3)];
        var forward = Wound.Of(Some.Ellipse(), layer);
        var backward = Wound.Of(Some.Ellipse(), [.. layer.Reverse()]);
        forward.Shape.SymmetricDifference(backward.Shape).Area.ShouldBeLessThan(1e-6);
        backward.Size.AreaMm2.ShouldBe(forward.Size.AreaMm2, 1e-6);
        backward.Size.PerimeterMm.ShouldBe(forward.Size.PerimeterMm, 1e-6);
    }

    [Fact]
    public void Where_rims_of_one_layer_overlap_the_wider_one_counts_and_they_do_not_add()
    {
        var size = Wound.Of(Wound.Circle(8), [Wound.Rim(0, 200, 2), Wound.Rim(100, 200, 3)]).Size;
        size.AreaMm2.ShouldBeWithin((64 * Math.PI) + ClosedForm.Strip(8, 2, 100) + ClosedForm.Strip(8, 3, 200), ClosedForm.Tight);
    }

    [Fact]
    public void A_rim_of_the_next_layer_lies_outside_the_rim_before_it()
    {
        var size = Wound.Of(Wound.Circle(8), [Wound.Rim(400, 150, 2)], [Wound.Rim(400, 150, 1.5m)]).Size;
        size.AreaMm2.ShouldBeWithin(ClosedForm.CircleWithRim(8, 3.5, 150), ClosedForm.Tight);
        size.PerimeterMm.ShouldBeWithin(ClosedForm.PerimeterWithRim(8, 3.5, 150), ClosedForm.Tight);
    }

    [Fact]
    public void A_base_leaves_the_outline_as_it_is_and_a_rim_with_base_widens_it()
    {
        var first = Wound.Of(Some.Ellipse());
        var withBase = Wound.Of(Some.Ellipse(), [Some.Base("01:00-05:00", centre: true), Some.Base(null, centre: true)]);
        withBase.Size.ShouldBe(first.Size);
        withBase.Shape.EqualsExact(first.Shape).ShouldBeTrue();
        var both = Wound.Of(Some.Ellipse(), [Some.RimAndBase("01:00-05:00", widthMm: 2)]);
        both.Shape.EqualsExact(Wound.Of(Some.Ellipse(), [Some.Rim("01:00-05:00", 2)]).Shape).ShouldBeTrue();
    }

    [Fact]
    public void A_wedge_along_an_edge_of_the_widened_wound_leaves_no_line_behind()
    {
        // The arm on the left ends at x = −2, so that its edge widened by 2 mm lies on the line from the centre to 12 o'clock.
        var arm = Wound.Trace((1, -3), (1, 1), (-2, 1), (-2, 8), (-6, 8), (-6, -3));
        var each = Wound.Each(arm, [Wound.Rim(0, 180, 2)], [Wound.Rim(180, 180, 2)], [Wound.Rim(660, 120, 1)]);
        each.Select(defect => defect.Shape.GeometryType).Distinct().ShouldBe(["Polygon"]);

        // What the first rim adds right of 12 o'clock: to the right edge of the wound 2 × 1 mm, above its top edge 1 × 2 mm, and a quarter circle.
        (each[1].Size.AreaMm2 - each[0].Size.AreaMm2).ShouldBe(2 + 2 + Math.PI, 0.001);
        each[1].Size.LengthMm.ShouldBeLessThan(14);
    }
}
