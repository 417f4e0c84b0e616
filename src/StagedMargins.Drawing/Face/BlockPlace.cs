using StagedMargins.Core.Mapping;
using StagedMargins.Drawing.Content;
using StagedMargins.Drawing.Primitives;

namespace StagedMargins.Drawing.Face;

/// <summary>Where the tissue of a stage's blocks lies on the face.</summary>
internal sealed class BlockPlace(MapContent content, FaceFrame frame, FaceZones zones)
{
    private const double ShortestCut = 26;
    private const int MostRows = 6;

    private Stage Stage => content.Stage!;

    /// <summary>True where a block is of the floor alone, without an outer edge.</summary>
    internal bool IsOfFloor(Block block) => Stage.Covered(block, Margin.Peripheral).IsEmpty;

    /// <summary>From where to where a cut at an angle runs, scene units from the middle.</summary>
    internal (double From, double To) Cut(Block block, double degrees)
    {
        if (IsOfFloor(block))
        {
            var floor = frame.EdgeAt(degrees) * FaceZones.FloorOuter;
            return (block.Centre ? 0 : Math.Min(zones.CentreRadius, floor / 2), floor);
        }

        var edge = Reach(block, degrees);
        if (Stage.Number == 1 && !block.Shows.Has(Margin.Deep))
        {
            return (edge * FaceZones.FloorTargetOuter, edge);
        }

        if (Stage.Number == 1)
        {
            return (block.Centre ? 0 : Math.Max(zones.CentreRadius * 1.5, edge * FaceZones.FloorInner * 0.9), edge);
        }

        return (Math.Clamp(Before(InsideArc(block, degrees)), 0, Math.Max(0, edge - ShortestCut)), edge);
    }

    /// <summary>How far the block's tissue reaches at one of its ends, scene units.</summary>
    internal double Reach(Block block, double degrees) => IsOfFloor(block)
        ? frame.EdgeAt(degrees) * FaceZones.FloorOuter
        : frame.EdgeAt(InsideArc(block, degrees));

    /// <summary>Where a block's label may stand outside the wound, beyond the target, best first; nowhere for a block without an edge.</summary>
    /// <param name="block">The block.</param>
    /// <param name="degrees">Clockwise from 12 o'clock.</param>
    /// <param name="size">Radius of the label's plate.</param>
    /// <returns>Distances from the middle, scene units.</returns>
    internal IEnumerable<double> Outside(Block block, double degrees, double size)
    {
        var beyond = frame.Measures.TargetOffset + frame.Measures.TargetBand + 4 + size;
        return block.Arc is null || IsOfFloor(block)
            ? []
            : Rows(frame.EdgeAt(degrees) + beyond, size / 2)
                .TakeWhile(radius => radius + size < frame.Measures.RingInner)
                .Where(radius => IsClear(degrees, radius, beyond));
    }

    /// <summary>Where a block's label may stand on its tissue, clear of the marks of edge and floor, best first.</summary>
    /// <inheritdoc cref="Outside"/>
    internal IEnumerable<double> OnTissue(Block block, double degrees, double size)
    {
        if (block.Arc is null)
        {
            return [zones.CentreRadius + size + 3];
        }

        var edge = frame.EdgeAt(degrees);
        if (IsOfFloor(block))
        {
            return [edge * (FaceZones.FloorInner + FaceZones.FloorOuter) / 2, (edge * FaceZones.FloorOuter) + size];
        }

        var depth = (Stage.Number == 1 ? frame.Band * 1.7 : frame.Band) + 2;
        var innermost = Stage.Number == 1 ? FloorReach(block.Shows, edge, size) : Before(degrees) + size;
        return Rows(edge - depth - size, -size)
            .TakeWhile(radius => radius >= innermost)
            .Where(radius => IsClear(degrees, radius, depth + size));
    }

    private bool IsClear(double degrees, double radius, double distance) =>
        frame.DistanceToEdge(frame.At(degrees, radius)) >= distance - 0.5;

    private double FloorReach(ShownMargins shows, double edge, double size)
    {
        var onFloor = content.Marks.Where(mark => mark.Place == MarkPlace.Deep).ToList();
        return (onFloor.Count == 0 && shows.Has(Margin.Deep), onFloor.Exists(mark => mark.Kind == MarkKind.Target)) switch
        {
            (true, _) => edge * FaceZones.FloorInner,
            (_, true) => (edge * FaceZones.FloorTargetOuter) + size,
            _ => (edge * FaceZones.FloorOuter) + size,
        };
    }

    private static IEnumerable<double> Rows(double first, double step) => Enumerable.Range(0, MostRows).Select(row => first + (row * step));

    private double Before(double degrees) => frame.Reach(content.Series.DefectAfter(Stage.Number - 1)!.Shape, degrees);

    // At the very end of a rim the outline steps inward; a hair inside the arc it has the rim's reach.
    private static double InsideArc(Block block, double degrees)
    {
        const double Hair = 0.05;
        return block.Arc is not { IsWhole: false } arc ? degrees : degrees == FaceFrame.Degrees(arc.From) ? degrees + Hair : degrees - Hair;
    }
}
