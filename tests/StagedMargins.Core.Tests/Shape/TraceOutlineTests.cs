using StagedMargins.Core.Mapping;
using StagedMargins.Core.Shape;

namespace StagedMargins.Core.Tests.Shape;

public sealed class TraceOutlineTests
{
    private static readonly (decimal X, decimal Y)[] Square = [(-5, -5), (5, -5), (5, 5), (-5, 5)];

    [Fact]
    public void A_square_is_measured_exactly()
    {
        var size = Wound.Of(Wound.Trace(Square)).Size;
        size.AreaMm2.ShouldBe(100, 1e-9);
        size.PerimeterMm.ShouldBe(40, 1e-9);
        size.LengthMm.ShouldBe(Math.Sqrt(200), 1e-9);
        size.WidthMm.ShouldBe(Math.Sqrt(200), 1e-9);
    }

    [Fact]
    public void The_ring_may_be_closed_or_not_and_run_either_way()
    {
        var open = Wound.Trace(Square);
        Wound.Trace([.. Square, Square[0]]).ShouldBe(open);
        Wound.Trace([.. Square, Square[0]]).GetHashCode().ShouldBe(open.GetHashCode());
        Wound.Of(Wound.Trace([.. Square.Reverse()])).Size.AreaMm2.ShouldBe(100, 1e-9);
        Wound.Trace([.. Square.Reverse()]).ShouldNotBe(open);
    }

    [Fact]
    public void A_point_traced_twice_in_a_row_counts_once() =>
        Wound.Trace([Square[0], Square[0], Square[1], Square[1], Square[2], Square[3], Square[3]]).ShouldBe(Wound.Trace(Square));

    [Fact]
    public void Points_are_kept_in_whole_micrometres()
    {
        var outline = Wound.Trace((-5.0004m, -5), (5.0005m, -5), (0, 5.1236m));
        outline.Points.ShouldBe([new TracePoint(-5000, -5000), new TracePoint(5001, -5000), new TracePoint(0, 5124)]);
        Refused((-5, -5), (-5.0001m, -5), (5, -5)).ShouldContain("3 different points");
    }

    [Fact]
    public void Three_different_points_are_needed()
    {
        Refused().ShouldContain("3 different points");
        Refused((0, 1), (1, -1)).ShouldContain("3 different points");
        Refused((0, 1), (1, -1), (0, 1)).ShouldContain("3 different points");
        Wound.Of(Wound.Trace((-3, -1), (3, -1), (0, 2))).Size.AreaMm2.ShouldBe(9, 1e-9);
    }

    [Fact]
    public void An_outline_that_crosses_or_touches_itself_is_refused()
    {
        Refused((-5, -5), (5, 5), (5, -5), (-5, 5)).ShouldContain("crosses or touches");
        Refused((-5, -5), (5, -5), (0, 3), (5, 5), (-5, 5), (0, 3)).ShouldContain("crosses or touches");
        Refused((-5, -5), (5, -5), (5, 5), (5, 8), (5, 5), (-5, 5)).ShouldContain("crosses or touches");
        Refused((-5, 0), (0, 0), (5, 0)).ShouldContain("no area");
    }

    [Fact]
    public void An_outline_that_does_not_run_around_the_centre_is_refused()
    {
        Refused((1, 1), (5, 1), (5, 5), (1, 5)).ShouldContain("around the tumour's centre");
        Refused((0, 0), (5, 0), (5, 5), (0, 5)).ShouldContain("around the tumour's centre");
        Refused((-5, 0), (5, 0), (5, 5), (-5, 5)).ShouldContain("around the tumour's centre");

        // A horseshoe with the centre in its gap.
        Refused((-5, -5), (5, -5), (5, 5), (2, 5), (2, -2), (-2, -2), (-2, 5), (-5, 5)).ShouldContain("around the tumour's centre");
    }

    [Fact]
    public void A_point_lies_within_300_mm_each_way()
    {
        Wound.Of(Wound.Trace((-300, -300), (300, -300), (300, 300), (-300, 300))).Size.AreaMm2.ShouldBe(360_000, 1e-6);
        Refused((-300.001m, -5), (5, -5), (0, 5)).ShouldContain("300 mm");
        Refused((-5, -5), (5, -5), (0, decimal.MaxValue)).ShouldContain("300 mm");
        Refused((-5, -5), (5, -5), (0, decimal.MinValue)).ShouldContain("300 mm");
    }

    [Fact]
    public void At_most_5000_points_are_taken()
    {
        Wound.Trace(RecordLimits.TracePoints, _ => 20).Points.Count.ShouldBe(5_000);
        Refusal.OfEntry("trace", () => Wound.Trace(RecordLimits.TracePoints + 1, _ => 20)).Message.ShouldContain("5000");
    }

    [Fact]
    public void An_outline_with_dents_keeps_them()
    {
        var size = Wound.Of(Wound.Trace((-6, -6), (6, -6), (6, 6), (2, 6), (2, 2), (-2, 2), (-2, 6), (-6, 6))).Size;
        size.AreaMm2.ShouldBe(144 - 16, 1e-9);
        size.PerimeterMm.ShouldBe(48 + 8, 1e-9);
    }

    private static string Refused(params (decimal X, decimal Y)[] points) =>
        Refusal.OfEntry("trace", () => TraceOutline.FromMillimetres(points)).Message;
}
