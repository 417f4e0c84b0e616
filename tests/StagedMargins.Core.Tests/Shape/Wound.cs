using StagedMargins.Core.ClockFace;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Shape;

namespace StagedMargins.Core.Tests.Shape;

/// <summary>Wounds of an outline and further layers.</summary>
internal static class Wound
{
    public static Defect Of(Outline outline, params Piece[][] layers) => Each(outline, layers)[^1];

    public static IReadOnlyList<Defect> Each(Outline outline, params Piece[][] layers)
    {
        var surgicalCase = Some.Case().Take(Some.Whole(outline));
        foreach (var layer in layers)
        {
            surgicalCase.Take(layer, [], "shape only");
        }

        return Defect.Each(surgicalCase.Case.Stages);
    }

    public static EllipseOutline Circle(decimal radiusMm) => new(Some.Mm(2 * radiusMm), Some.Mm(2 * radiusMm), default);

    /// <summary>A rim by its first clock minute and length.</summary>
    public static Piece Rim(int from, int minutes, decimal widthMm) =>
        new(PieceKind.Rim, ClockArc.Starting(new ClockPosition(from), minutes), false, Some.Mm(widthMm), null, null);

    public static TraceOutline Trace(params (decimal X, decimal Y)[] points) => TraceOutline.FromMillimetres(points);

    /// <summary>A trace of equally spaced directions, its distance from the centre given for each.</summary>
    public static TraceOutline Trace(int points, Func<int, double> distanceMm) => TraceOutline.FromMillimetres(
    [
        .. Enumerable.Range(0, points).Select(i =>
        {
            var (sin, cos) = Math.SinCos(2 * Math.PI * i / points);
            return ((decimal)(distanceMm(i) * sin), (decimal)(distanceMm(i) * cos));
        }),
    ]);

    public static void ShouldBeWithin(this double actual, double expected, double share) => actual.ShouldBe(expected, Math.Abs(expected) * share);
}
