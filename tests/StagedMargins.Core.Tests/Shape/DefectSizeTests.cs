using CsCheck;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Shape;

namespace StagedMargins.Core.Tests.Shape;

/// <summary>
/// Length is the largest caliper distance (Feret diameter), width the largest extent at right angles to it: common practice in
/// measuring wounds, no source. The figures are elementary geometry.
/// </summary>
public sealed class DefectSizeTests
{
    [Fact]
    public void A_rectangle_is_as_long_as_its_diagonal_whichever_way_it_lies() => Gen.Select(Gen.Int[5, 40], Gen.Int[5, 40], Gen.Int[0, 359]).Sample((a, b, degrees) =>
    {
        var size = Turned(degrees, (-a, -b), (a, -b), (a, b), (-a, b));
        var diagonal = Math.Sqrt((4 * a * a) + (4 * b * b));

        // A trace is kept in whole micrometres, so that a corner moves by at most half a micrometre's diagonal and the area by that times the perimeter.
        size.AreaMm2.ShouldBe(4 * a * b, 4 * (a + b) * 0.00071);
        size.LengthMm.ShouldBe(diagonal, 0.003);

        // The two other corners lie on both sides of the diagonal, each at area ÷ diagonal; a micrometre may choose the other diagonal.
        size.WidthMm.ShouldBe(2 * (4.0 * a * b) / diagonal, 0.01);
    });

    [Fact]
    public void A_regular_hexagon_is_two_sides_long_and_root_three_sides_wide() => Gen.Int[0, 359].Sample(degrees =>
    {
        var corners = Enumerable.Range(0, 6).Select(i => (10 * Math.Sin(i * Math.PI / 3), 10 * Math.Cos(i * Math.PI / 3)));
        var size = Turned(degrees, [.. corners]);
        size.LengthMm.ShouldBe(20, 0.003);
        size.WidthMm.ShouldBe(10 * Math.Sqrt(3), 0.01);
        size.PerimeterMm.ShouldBe(60, 0.01);
    });

    [Fact]
    public void Any_wound_is_as_long_as_the_farthest_two_of_its_corners_are_apart() => Gen.OneOf(Gen.Int[40, 200], Gen.Int[90, 110], Gen.Const(100)).Array[3, 80].Sample(distances =>
    {
        var wound = Wound.Of(Wound.Trace(distances.Length, i => distances[i] / 10.0));
        var corners = wound.Shape.Coordinates;
        wound.Size.LengthMm.ShouldBe(corners.Max(one => corners.Max(one.Distance)), 1e-9);
    });

    [Fact]
    public void A_triangle_is_as_long_as_its_longest_side()
    {
        var size = Wound.Of(Wound.Trace((-3, -1), (3, -1), (0, 2))).Size;
        size.LengthMm.ShouldBe(6, 1e-9);
        size.WidthMm.ShouldBe(3, 1e-9);
    }

    [Fact]
    public void A_dent_does_not_change_length_and_width()
    {
        var dented = Wound.Of(Wound.Trace((-6, -2), (6, -2), (6, 2), (1, 2), (0, 1), (-1, 2), (-6, 2))).Size;
        var plain = Wound.Of(Wound.Trace((-6, -2), (6, -2), (6, 2), (-6, 2))).Size;
        (dented.LengthMm, dented.WidthMm).ShouldBe((plain.LengthMm, plain.WidthMm));
        dented.AreaMm2.ShouldBe(plain.AreaMm2 - 1, 1e-9);
    }

    [Fact]
    public void The_deepest_plane_reached_is_kept()
    {
        Piece[][] layers =
        [
            [Some.Base("01:00-02:00", plane: AnatomicalPlane.Fascia), Some.Rim("01:00-02:00", plane: AnatomicalPlane.Dermis)],
            [Some.RimAndBase("01:00-02:00", plane: AnatomicalPlane.SubcutaneousFat)],
            [Some.Base(null, centre: true, plane: AnatomicalPlane.Bone)],
            [Some.Base("07:00-08:00")],
        ];
        var surgicalCase = Some.Case().Take(Some.Whole(plane: AnatomicalPlane.Dermis));
        foreach (var layer in layers)
        {
            surgicalCase.Take(layer, [], "shape only");
        }

        Defect.Each(surgicalCase.Case.Stages).Select(defect => defect.Plane)
            .ShouldBe([AnatomicalPlane.Dermis, AnatomicalPlane.Fascia, AnatomicalPlane.Fascia, AnatomicalPlane.Bone, AnatomicalPlane.Bone]);
        Defect.Each(surgicalCase.Case.Stages).Select(defect => defect.Size.Plane).ShouldBe(Defect.Each(surgicalCase.Case.Stages).Select(defect => defect.Plane));
        Wound.Of(Some.Ellipse(), [Some.Base("01:00-02:00")]).Plane.ShouldBeNull();
    }

    [Fact]
    public void Planes_are_ordered_from_the_surface_down() => EnumNames<AnatomicalPlane>.All.ShouldBe(
        ["epidermis", "dermis", "subcutaneousFat", "fascia", "muscle", "perichondrium", "cartilage", "periosteum", "bone"]);

    private static DefectSize Turned(int degrees, params (double X, double Y)[] corners)
    {
        var (sin, cos) = Math.SinCos(degrees * Math.PI / 180);
        return Wound.Of(Wound.Trace([.. corners.Select(c => ((decimal)((c.X * cos) + (c.Y * sin)), (decimal)((c.Y * cos) - (c.X * sin))))])).Size;
    }
}
