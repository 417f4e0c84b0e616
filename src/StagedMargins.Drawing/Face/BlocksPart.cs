using StagedMargins.Core.ClockFace;
using StagedMargins.Core.Mapping;
using StagedMargins.Drawing.Content;
using StagedMargins.Drawing.Lettering;
using StagedMargins.Drawing.Primitives;

namespace StagedMargins.Drawing.Face;

/// <summary>The blocks of a stage: cut lines and labels.</summary>
internal sealed class BlocksPart(Stage stage, FaceFrame frame, BlockPlace place, OccupiedAreas occupied)
{
    private const int AnglesTried = 24;
    private static readonly double[] PlateRadii = [17, 14, 11.5, 9.5];

    /// <summary>The lines along which the blocks were cut.</summary>
    internal IEnumerable<SceneGroup> CutLines() => stage.Blocks
        .Where(block => block.Arc is { IsWhole: false })
        .OrderByDescending(stage.IsReplaced)
        .Select(block => new SceneGroup(SceneRole.CutLine, $"Cut lines of block {MapWords.OnFace(stage, block)}",
        [
            new ScenePath([CutLine(block, FaceFrame.Degrees(block.Arc!.Value.From)), CutLine(block, FaceFrame.Degrees(block.Arc!.Value.To))],
                null,
                new Pen(stage.IsReplaced(block) ? Palette.Hairline : Palette.Wound, frame.Measures.Line * 0.7)),
        ]));

    /// <summary>
    /// The labels, all of one size: on the tissue, or where the blocks are too narrow for that, outside it as large as they leave
    /// space for. A label that finds no space at all stands in the table alone.
    /// </summary>
    internal IReadOnlyList<SceneGroup> Labels()
    {
        var isCrowded = !stage.Blocks.All(block => SpaceFor(block, place.OnTissue) >= PlateRadii[0] * 2.3);
        var radius = isCrowded
            ? PlateRadii.FirstOrDefault(size => stage.Blocks.All(block => SpaceFor(block, place.Outside) >= size * 2.2), PlateRadii[^1])
            : PlateRadii[0];
        return [.. stage.Blocks.OrderBy(stage.IsReplaced).Select(block => Label(block, radius, isCrowded)).OfType<SceneGroup>()];
    }

    private Contour CutLine(Block block, double degrees)
    {
        var (from, to) = place.Cut(block, degrees);
        return Contour.Line(frame.At(degrees, from), frame.At(degrees, to));
    }

    // Length of the block where its label would stand first.
    private double SpaceFor(Block block, Func<Block, double, double, IEnumerable<double>> radii) => block.Arc is { } arc
        ? radii(block, FaceFrame.Degrees(arc, 0.5), PlateRadii[^1]).FirstOrDefault(frame.EdgeAt(FaceFrame.Degrees(arc, 0.5))) * arc.Minutes * Math.PI / 360
        : double.MaxValue;

    private SceneGroup? Label(Block block, double radius, bool isCrowded)
    {
        foreach (var (degrees, fromMiddle) in Candidates(block, radius, isCrowded))
        {
            var plate = Plate(block, frame.At(degrees, fromMiddle), radius);
            if (occupied.TryTake(plate.Box.Grown(1)))
            {
                return new SceneGroup(SceneRole.BlockLabel, MapWords.OnFace(stage, block), plate.Items) { Arc = block.Arc };
            }
        }

        return null;
    }

    private IEnumerable<(double Degrees, double Radius)> Candidates(Block block, double size, bool isCrowded)
    {
        if (block.Arc is not { } arc)
        {
            return Around(block, size);
        }

        // From the middle of the block toward both ends.
        var angles = Enumerable.Range(0, AnglesTried)
            .Select(i => 0.5 + ((i % 2 == 0 ? 1 : -1) * ((i + 1) / 2) / (AnglesTried + 2.0)))
            .Select(share => FaceFrame.Degrees(arc, share))
            .ToList();
        var onTissue = angles.SelectMany(degrees => place.OnTissue(block, degrees, size).Select(radius => (degrees, radius)));
        var outside = angles.SelectMany(degrees => place.Outside(block, degrees, size).Select(radius => (degrees, radius)));
        return isCrowded ? outside.Concat(onTissue) : onTissue.Concat(outside);
    }

    // The centre alone lies under no hour: its label stands beside it, best where no other block does.
    private IEnumerable<(double Degrees, double Radius)> Around(Block block, double size) => Enumerable.Range(0, AnglesTried)
        .Select(i => new ClockPosition((i * ClockPosition.MinutesInCircle / AnglesTried) + 15))
        .OrderBy(position => stage.Blocks.Any(other => other.Arc is { } arc && arc.Contains(position)))
        .Select(position => (FaceFrame.Degrees(position), place.OnTissue(block, FaceFrame.Degrees(position), size).First()));

    private (SceneBox Box, IReadOnlyList<SceneItem> Items) Plate(Block block, ScenePoint at, double radius)
    {
        var m = frame.Measures;
        var isReplaced = stage.IsReplaced(block);
        var isUndecided = block.CountingReading?.Findings.Any(finding => finding.IsUndecided()) == true;
        var (colour, pen) = block.CountingReading?.Outcome switch
        {
            _ when isReplaced => (Palette.Muted, new Pen(Palette.Hairline, m.Line * 0.7)),
            ReadingOutcome.Clear when !isUndecided => (Palette.Text, new Pen(Palette.Muted, m.Line * 0.7)),
            ReadingOutcome.Tumour => (Palette.Tumour, new Pen(Palette.Tumour, m.Line * 1.3)),
            _ => (Palette.Unread, new Pen(Palette.Unread, m.Line, (m.Line * 2, m.Line * 2))),
        };
        var words = MapWords.OnFace(stage, block);
        var size = radius * (words.Length == 1 ? 1.3 : 1);
        var text = (isReplaced ? TextStyle.Regular(size * 0.8, colour) : TextStyle.Bold(size, colour)).WriteAround(words, at);
        var box = SceneBox.About(at, Math.Max(2 * radius, text.Box.Width + (radius * 0.6)), 2 * radius);
        return (box, [ScenePath.Filled(Contour.Capsule(box), Palette.Paper, pen), text]);
    }
}
