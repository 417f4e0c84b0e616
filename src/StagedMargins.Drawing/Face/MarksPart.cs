using StagedMargins.Drawing.Content;
using StagedMargins.Drawing.Lettering;
using StagedMargins.Drawing.Primitives;

namespace StagedMargins.Drawing.Face;

/// <summary>Tumour, unread, inflammation and target on the face. Each has a pattern of its own beside its colour.</summary>
internal sealed class MarksPart(MapContent content, FaceFrame frame, FaceZones zones, OccupiedAreas occupied)
{
    // A long stretch repeats its sign, so that it is seen wherever one looks.
    private const int MinutesToASign = 120;

    // Where in its part of the stretch a sign may stand, best first: a block's label may have the middle.
    private static readonly double[] SignPlaces = [0.5, 0.25, 0.75, 0.15, 0.85];

    /// <summary>Every mark, in the order of painting.</summary>
    internal IEnumerable<SceneGroup> Draw() => content.Marks.Select(Draw);

    /// <summary>The shapes of a kind of mark inside some contours.</summary>
    internal static IEnumerable<SceneItem> Fill(MarkKind kind, IReadOnlyList<Contour> contours, Measures m) => kind switch
    {
        MarkKind.Target =>
        [
            new ScenePath(contours, Palette.TargetTint, null),
            new ScenePath(Hatching.Lines(contours, -45, m.HatchStep * 1.4), null, new Pen(Palette.Target, m.Line * 0.6)),
            new ScenePath(contours, null, new Pen(Palette.Target, m.Line)),
        ],
        MarkKind.Inflammation =>
        [
            new ScenePath(contours, Palette.WarningTint, null),
            new ScenePath(Hatching.Dots(contours, m.DotStep), null, new Pen(Palette.Warning, m.Line * 1.3)),
            new ScenePath(contours, null, new Pen(Palette.Warning, m.Line * 0.6)),
        ],
        MarkKind.Outstanding =>
        [
            new ScenePath(contours, Palette.TumourTint, null),
            new ScenePath(Hatching.Lines(contours, 45, m.HatchStep), null, new Pen(Palette.Tumour, m.Line * 1.1)),
            new ScenePath(contours, null, new Pen(Palette.Tumour, m.Strong)),
        ],
        _ => [new ScenePath(contours, null, new Pen(Palette.Unread, m.Line, (m.Line * 3.5, m.Line * 2.5)))],
    };

    /// <summary>The sign of an unread place on a plate of its own.</summary>
    internal static IReadOnlyList<SceneItem> Question(ScenePoint at, double size)
    {
        var text = TextStyle.Bold(size, Palette.Unread).WriteAround("?", at);
        return [ScenePath.Filled(Contour.Circle(at, size * 0.58), Palette.Paper), text];
    }

    private SceneGroup Draw(Mark mark)
    {
        var contours = frame.ToContours(zones.ZoneOf(mark));
        var items = Fill(mark.Kind, contours, frame.Measures).Where(item => item is not ScenePath { Contours.Count: 0 });
        var signs = mark.Kind == MarkKind.Unread ? Questions(mark) : [];
        return new SceneGroup(mark.Role, mark.Name, [.. items, .. signs]) { Place = mark.Place, Arc = mark.Arc };
    }

    private List<SceneItem> Questions(Mark mark)
    {
        var signs = new List<SceneItem>();
        var count = mark.Arc is { } arc ? Math.Max(1, (arc.Minutes + (MinutesToASign / 2)) / MinutesToASign) : 1;
        for (var i = 0; i < count; i++)
        {
            foreach (var share in SignPlaces)
            {
                var at = mark.Place == MarkPlace.Centre ? frame.Middle : zones.Within(mark, FaceFrame.Degrees(mark.Arc!.Value, (i + share) / count));
                var plate = SceneBox.About(at, frame.Measures.Sign * 1.2, frame.Measures.Sign * 1.2);
                if (Fits(mark, plate.Width) && occupied.TryTake(plate))
                {
                    signs.AddRange(Question(at, frame.Measures.Sign));
                    break;
                }
            }
        }

        return signs;
    }

    private bool Fits(Mark mark, double width)
    {
        if (mark.Arc is not { } arc)
        {
            return zones.CentreRadius * 2 >= width;
        }

        var degrees = FaceFrame.Degrees(arc, 0.5);
        var radius = frame.EdgeAt(degrees) * (mark.Place == MarkPlace.Peripheral ? 1 : (FaceZones.FloorInner + FaceZones.FloorOuter) / 2);
        return arc.IsWhole || radius * arc.Minutes * Math.PI / 360 >= width;
    }
}
