using NetTopologySuite.Geometries;
using StagedMargins.Core.ClockFace;
using StagedMargins.Core.Mapping;
using StagedMargins.Drawing.Content;
using StagedMargins.Drawing.Primitives;

namespace StagedMargins.Drawing.Face;

/// <summary>The tissue of every stage, and the outline of the wound, to scale.</summary>
internal sealed class LayersPart(MapContent content, FaceFrame frame, FaceZones zones)
{
    private Measures Measures => frame.Measures;

    /// <summary>The layers, first to last; neighbours differ in tint and have a line between them.</summary>
    internal IEnumerable<SceneGroup> Layers() => content.Stages.Select(stage =>
    {
        var added = content.Series.AddedBy(stage.Number);
        var isFaded = content.ShowsBlocks && stage != content.Stage;
        var tint = isFaded ? Palette.Dial : content.ShowsBlocks ? Palette.Layer(1) : Palette.Layer(stage.Number);
        var items = new List<SceneItem>();
        if (!added.IsEmpty)
        {
            items.Add(new ScenePath(frame.ToContours(added), tint, new Pen(Palette.LayerBorder, Measures.Line * 0.75)));
        }

        items.AddRange(Floors(stage).Select(floor => new ScenePath(
            frame.ToContours(floor), tint, new Pen(Palette.LayerBorder, Measures.Line * 0.75, (Measures.Line * 4, Measures.Line * 3)))));
        return new SceneGroup(SceneRole.Layer, $"Stage {stage.Number}: {MapWords.Of(stage.Pieces)}", items);
    });

    /// <summary>The outline of the wound.</summary>
    internal SceneGroup Outline() => new(
        SceneRole.Outline,
        "Outline of the defect, to scale",
        [new ScenePath(frame.ToContours(frame.Shape!), null, new Pen(Palette.Wound, Measures.Strong * 0.8))]);

    /// <summary>The arc over which a stage's label may point at its tissue: its longest rim, else its longest base; null for any.</summary>
    internal static ClockArc? ArcOf(Stage stage) => LongestPiece(stage)?.Arc;

    /// <summary>A point on the tissue that a stage took, in a direction inside <see cref="ArcOf"/>.</summary>
    /// <param name="stage">The stage.</param>
    /// <param name="degrees">Clockwise from 12 o'clock.</param>
    internal ScenePoint PlaceOf(Stage stage, double degrees)
    {
        var reach = ReachAfter(stage.Number, degrees);
        return (stage.Number, LongestPiece(stage)) switch
        {
            (1, _) => frame.At(degrees, reach * FirstLayerShare),
            (_, null) => frame.At(degrees, zones.CentreRadius * 0.8),
            (_, { Width: not null }) => frame.At(degrees, (ReachAfter(stage.Number - 1, degrees) + reach) / 2),
            _ => frame.At(degrees, reach * (FaceZones.FloorInner + FaceZones.FloorOuter) / 2),
        };
    }

    // Between the marks of the floor and those of the edge.
    private const double FirstLayerShare = 0.74;

    private static Piece? LongestPiece(Stage stage) => stage.Pieces
        .Where(piece => piece.Arc is not null)
        .OrderByDescending(piece => piece.Width is not null)
        .ThenByDescending(piece => piece.Arc!.Value.Minutes)
        .FirstOrDefault();

    private IEnumerable<Geometry> Floors(Stage stage) => stage.Pieces
        .Where(piece => piece.Kind is PieceKind.Base or PieceKind.RimAndBase)
        .SelectMany(piece => new[]
        {
            piece.Arc is { } arc ? zones.FloorUnder(arc) : null,
            piece.Centre ? zones.CentreDisc() : null,
        })
        .OfType<Geometry>();

    private double ReachAfter(int stage, double degrees) => frame.Reach(content.Series.DefectAfter(stage)!.Shape, degrees);
}
