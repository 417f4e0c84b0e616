using StagedMargins.Core.Wording;
using StagedMargins.Drawing.Content;
using StagedMargins.Drawing.Lettering;
using StagedMargins.Drawing.Primitives;

namespace StagedMargins.Drawing.Face;

/// <summary>The clock face with the wound and everything on it.</summary>
internal static class FacePart
{
    /// <summary>Draws the face.</summary>
    internal static IReadOnlyList<SceneGroup> Draw(MapContent content, FaceFrame frame)
    {
        var groups = new List<SceneGroup>(DialPart.Draw(frame));
        if (content.Stage is not { } stage)
        {
            groups.Add(NoLayer(frame));
            return groups;
        }

        var (zones, occupied) = (new FaceZones(frame), new OccupiedAreas());
        var layers = new LayersPart(content, frame, zones);
        var place = new BlockPlace(content, frame, zones);
        var showsBlocks = content.ShowsBlocks && frame.Measures.IsWide;
        var blocks = new BlocksPart(stage, frame, place, occupied);
        var inks = new InksPart(stage, frame, place, occupied);

        // What is worded first keeps its place: numerals, labels of blocks, signs, leaders, names of inks.
        occupied.TakeTexts(groups);
        var labels = showsBlocks ? blocks.Labels() : [];
        var marks = new MarksPart(content, frame, zones, occupied).Draw().ToList();
        var sides = new SideLabels(frame, occupied).Draw(new LabelsPart(content, zones, layers).All());
        occupied.TakeLines(marks.Where(mark => mark.Role == SceneRole.Target));

        groups.AddRange(layers.Layers());
        groups.AddRange(showsBlocks ? blocks.CutLines() : []);
        groups.Add(layers.Outline());
        groups.AddRange(showsBlocks ? inks.Bars() : []);
        groups.AddRange(marks);
        groups.AddRange(sides);
        groups.AddRange(labels);
        groups.AddRange(showsBlocks ? inks.Names() : []);
        return groups;
    }

    private static SceneGroup NoLayer(FaceFrame frame)
    {
        var text = Paragraph.Of(Sentences.NoLayerTaken, TextStyle.Regular(frame.Measures.Body * 1.2, Palette.Muted), frame.Measures.RingInner * 1.5);
        return new SceneGroup(
            SceneRole.NoLayer,
            Sentences.NoLayerTaken,
            [.. text.At(frame.Middle.X, frame.Middle.Y - (text.Height / 2), TextAlign.Middle)]);
    }
}
