using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;
using StagedMargins.Drawing.Content;
using StagedMargins.Drawing.Face;
using StagedMargins.Drawing.Lettering;
using StagedMargins.Drawing.Primitives;

namespace StagedMargins.Drawing.Page;

/// <summary>The key: each sign that occurs, what it means, and its places in numbers.</summary>
internal static class Key
{
    private static readonly MarkKind[] LoudestFirst = [MarkKind.Outstanding, MarkKind.Target, MarkKind.Unread, MarkKind.Inflammation];

    /// <summary>Draws the key; nothing where no mark occurs.</summary>
    internal static void Draw(Sheet sheet, MapContent content, FaceZones zones)
    {
        foreach (var kind in LoudestFirst)
        {
            var marks = content.Marks.Where(mark => mark.Kind == kind).ToList();
            if (marks.Count > 0)
            {
                Row(sheet, kind, MeaningOf(kind), PlacesOf(marks, zones) + More(content, kind));
            }
        }

        if (content is { ShowsBlocks: true, Stage.Pieces.Count: > 1 } && sheet.Measures.IsWide)
        {
            sheet.Write(SceneRole.Key, Sentences.PlatesNamePieces, TextStyle.Regular(sheet.Measures.Small, Palette.Muted));
            sheet.Down(sheet.Measures.Gap * 0.3);
        }

        if (content.Marks.Any(mark => mark.Place != MarkPlace.Peripheral))
        {
            sheet.Down(sheet.Measures.Gap * 0.3);
            var words = "The peripheral margin is drawn on the outline, to scale; the deep margin and the centre inside it by clock position, not to scale.";
            sheet.Write(SceneRole.Key, words, TextStyle.Regular(sheet.Measures.Small, Palette.Muted));
            sheet.Down(sheet.Measures.Gap * 0.5);
        }
    }

    private static void Row(Sheet sheet, MarkKind kind, string meaning, string places)
    {
        var m = sheet.Measures;
        var (width, height) = (m.Body * 2.3, m.Body * 1.15);
        var swatch = Contour.Rectangle(new SceneBox(sheet.Left, sheet.Top, sheet.Left + width, sheet.Top + height));
        var middle = new ScenePoint(sheet.Left + (width / 2), sheet.Top + (height / 2));
        var (first, rest) = (TextStyle.Bold(m.Body, Palette.Text), TextStyle.Regular(m.Body, Palette.Text));
        var x = sheet.Left + width + (m.Body * 0.7);
        var title = Paragraph.Of(meaning, first, sheet.Right - x);
        var isWide = m.IsWide;
        var (placesX, placesTop) = isWide ? (x + (m.Body * 13), sheet.Top) : (x, sheet.Top + title.Height + (m.Body * 0.2));
        var text = Paragraph.Of(places, rest, sheet.Right - placesX);
        sheet.Add(new SceneGroup(SceneRole.Key, $"{meaning}: {places}",
        [
            .. MarksPart.Fill(kind, [swatch], m),
            .. kind == MarkKind.Unread ? MarksPart.Question(middle, m.Body * 0.8) : [],
            .. title.At(x, sheet.Top + (m.Body * 0.1)),
            .. text.At(placesX, placesTop + (m.Body * 0.1)),
        ]));
        sheet.Down(Math.Max(height, placesTop - sheet.Top + text.Height) + (m.Gap * 0.55));
    }

    private static string MeaningOf(MarkKind kind) => kind switch
    {
        MarkKind.Outstanding => Terms.Outstanding.Capitalised(),
        MarkKind.Target => Sentences.TargetOfNextLayer.Capitalised(),
        MarkKind.Unread => Terms.Unread.Capitalised(),
        _ => $"! {Terms.Of(FindingKind.Inflammation).Capitalised()}",
    };

    // Why some of the places are what they are.
    private static string More(MapContent content, MarkKind kind) => string.Concat((kind switch
    {
        MarkKind.Unread => new[]
        {
            Part(content, Terms.Of(FindingKind.NotSeen), words => words.NotSeen),
            Part(content, Terms.Of(FindingKind.Undetermined), words => words.Undetermined),
        },
        MarkKind.Target => [Part(content, Sentences.NoMoreTissue, words => words.Exhausted)],
        _ => [],
    }).Where(part => part.Length > 0).Select(part => $". {part}"));

    private static string Part(MapContent content, string name, Func<MarkWords, MarginRegion> places)
    {
        var found = CaseMargins.Both.Select(margin => (Margin: margin, Region: places(content.WordsOf(margin)))).Where(one => !one.Region.IsEmpty).ToList();
        return found.Count == 0 ? "" : Sentences.OfThese(name.Capitalised(), string.Join("; ", found.Select(one => MapWords.Of(one.Margin, one.Region))));
    }

    private static string PlacesOf(List<Mark> marks, FaceZones zones) => string.Join("; ", marks.GroupBy(mark => mark.Margin).OrderBy(group => group.Key).Select(group =>
    {
        var places = MapWords.Of(group.Key, MarginRegion.UnionOf(group.Select(mark => mark.Region)));
        return group.First() is { Kind: MarkKind.Target, Margin: Margin.Peripheral }
            ? $"{places} ({MapWords.Millimetres(group.Sum(mark => zones.EdgeLengthMm(mark.Arc!.Value)))} along the outline)"
            : places;
    }));
}
