using CsCheck;
using StagedMargins.Core.ClockFace;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Shape;

namespace StagedMargins.Core.Tests.Shape;

/// <summary>Wounds that have no closed form, against the definition of a rim worked out point by point.</summary>
public sealed class DefectAgainstDefinition
{
    private const int Cases = 25;

    private static readonly Gen<(int From, int Minutes, int Width)> AnyRim =
        Gen.Select(Gen.OneOf(Gen.Int[0, 719], Gen.Int[0, 23].Select(half => half * 30)), Gen.OneOf(Gen.Int[10, 300], Gen.Const(720)), Gen.Int[5, 40]);

    private static readonly Gen<(int From, int Minutes, int Width)[][]> AnyLayers = AnyRim.Array[1, 2].Array[1, 3];

    [Fact]
    public void Any_layers_on_any_ellipse_take_what_the_definition_says() =>
        Gen.Select(Gen.Int[40, 200], Gen.Int[40, 200], Gen.Int[0, 719], AnyLayers).Sample(
            (length, width, axis, layers) =>
            {
                var (a, b, turn) = (length / 20.0, width / 20.0, ClosedForm.Radians(axis));
                var oracle = new RadialOracle(direction =>
                {
                    var (sin, cos) = Math.SinCos(direction - turn);
                    return a * b / Math.Sqrt((b * cos * b * cos) + (a * sin * a * sin));
                });
                Compare(new EllipseOutline(Some.Mm(length / 10m), Some.Mm(width / 10m), new ClockPosition(axis)), oracle, layers);
            },
            iter: Cases);

    [Fact]
    public void Any_layers_on_any_traced_star_take_what_the_definition_says() =>
        Gen.Select(Gen.Int[4, 12].Array[5, 9], AnyLayers).Sample(
            (distances, layers) => Compare(
                Wound.Trace(distances.Length, i => distances[i]),
                new RadialOracle(direction => EdgeOfStar(distances, direction), distances.Select((_, i) => 2 * Math.PI * i / distances.Length)),
                layers),
            iter: Cases);

    // Where a ray leaves the straight side between the two corners around it.
    private static double EdgeOfStar(int[] distances, double direction)
    {
        var angle = 2 * Math.PI / distances.Length;
        var before = (int)(direction / angle) % distances.Length;
        var (p, q, turn) = (distances[before], distances[(before + 1) % distances.Length], direction - (before * angle));
        return p * q * Math.Sin(angle) / ((p * Math.Sin(turn)) + (q * Math.Sin(angle - turn)));
    }

    private static void Compare(Outline outline, RadialOracle oracle, (int From, int Minutes, int Width)[][] layers)
    {
        Piece[][] pieces = [.. layers.Select(layer => layer.Select(rim => Wound.Rim(rim.From, rim.Minutes, rim.Width / 10m)).ToArray())];
        var each = Wound.Each(outline, pieces);
        each[0].Size.AreaMm2.ShouldBeWithin(oracle.Area, 0.001);
        for (var i = 0; i < layers.Length; i++)
        {
            oracle.Take([.. layers[i].Select(rim => (rim.From, rim.Minutes, rim.Width / 10.0))]);
            each[i + 1].Size.AreaMm2.ShouldBeWithin(oracle.Area, 0.001);
        }
    }
}
