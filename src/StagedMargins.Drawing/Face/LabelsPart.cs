using StagedMargins.Core.ClockFace;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;
using StagedMargins.Drawing.Content;
using StagedMargins.Drawing.Primitives;

namespace StagedMargins.Drawing.Face;

/// <summary>What is written beside the ring: every mark with its numbers, and on a map of all layers the stages.</summary>
internal sealed class LabelsPart(MapContent content, FaceZones zones, LayersPart layers)
{
    private const int StageRank = 5;

    /// <summary>The labels.</summary>
    internal IReadOnlyList<SideLabel> All()
    {
        IReadOnlyList<Stage> stages = content.ShowsBlocks ? [] : content.Stages;
        var directions = new Directions(Cuts()).For([.. content.Marks.Select(mark => mark.Arc), .. stages.Select(LayersPart.ArcOf)]);
        return
        [
            .. content.Marks.Select((mark, i) => LabelOf(mark, directions[i])),
            .. stages.Select((stage, i) => LabelOf(stage, directions[content.Marks.Count + i])),
        ];
    }

    private SideLabel LabelOf(Mark mark, double degrees)
    {
        var (first, more) = Words(mark);
        var from = mark.Kind == MarkKind.Unread ? zones.OuterEnd(mark, degrees) : zones.Within(mark, degrees);
        return new(mark.Name, first, more, ColourOf(mark.Kind), degrees, from, RankOf(mark.Kind));
    }

    private SideLabel LabelOf(Stage stage, double degrees) =>
        new($"Stage {stage.Number}", $"Stage {stage.Number}", KindsOf(stage), Palette.Muted, degrees, layers.PlaceOf(stage, degrees), StageRank);

    private List<double> Cuts() => content.ShowsBlocks
        ? [.. content.Stage!.Blocks.Select(block => block.Arc).OfType<ClockArc>().SelectMany(arc => new[] { arc.From, arc.To }).Distinct().Select(FaceFrame.Degrees)]
        : [];

    private (string First, string More) Words(Mark mark)
    {
        var sign = mark.Kind switch
        {
            MarkKind.Unread => "? ",
            MarkKind.Inflammation => "! ",
            _ => "",
        };
        var where = mark is { Kind: MarkKind.Target, Place: MarkPlace.Peripheral }
            ? $"{MapWords.Millimetres(zones.EdgeLengthMm(mark.Arc!.Value))} along the outline"
            : Terms.Of(mark.Margin);
        return (sign + mark.Region.InLabel().Capitalised(), mark.SaidWhen($"{mark.Found}, {where}"));
    }

    private static string KindsOf(Stage stage) => string.Join(", ", stage.Pieces.Select(piece => piece.Kind).Distinct().Order().Select(Terms.Of));

    private static SceneColour ColourOf(MarkKind kind) => kind switch
    {
        MarkKind.Target => Palette.Target,
        MarkKind.Inflammation => Palette.Warning,
        MarkKind.Outstanding => Palette.Tumour,
        _ => Palette.Unread,
    };

    private static int RankOf(MarkKind kind) => kind switch
    {
        MarkKind.Outstanding => 0,
        MarkKind.Target => 1,
        MarkKind.Unread => 2,
        _ => 3,
    };
}
