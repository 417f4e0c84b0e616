using StagedMargins.Core.ClockFace;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;
using StagedMargins.Drawing.Primitives;

namespace StagedMargins.Drawing.Content;

/// <summary>What is marked on the face, in the order of painting: what must not be hidden lies on top.</summary>
internal enum MarkKind
{
    /// <summary>What the next layer should take.</summary>
    Target,

    /// <summary>Inflammation.</summary>
    Inflammation,

    /// <summary>Tumour.</summary>
    Outstanding,

    /// <summary>Not adequately seen.</summary>
    Unread,
}

/// <summary>One place that is marked: an arc of the edge or of the floor, or the floor's centre.</summary>
/// <param name="Kind">What is marked.</param>
/// <param name="Place">On which part of the wound.</param>
/// <param name="Arc">Where; null for the centre.</param>
/// <param name="Earlier">True on a stage's own map for what an earlier stage left.</param>
/// <param name="Found">What was found there in words, for example <c>Tumour</c>.</param>
internal sealed record Mark(MarkKind Kind, MarkPlace Place, ClockArc? Arc, bool Earlier, string Found)
{
    /// <summary>The margin it lies on.</summary>
    internal Margin Margin => Place == MarkPlace.Peripheral ? Margin.Peripheral : Margin.Deep;

    /// <summary>Where it lies on its margin.</summary>
    internal MarginRegion Region => MarginRegion.Of(Arc, Place == MarkPlace.Centre);

    /// <summary>The mark in a few words, for example <c>Tumour, peripheral margin, 7:30–9:00 o'clock</c>.</summary>
    internal string Name => SaidWhen($"{Found}, {Margin.WithPlaces(Region)}");

    /// <summary>Words about the mark, with the stage that left it where that is an earlier one.</summary>
    internal string SaidWhen(string words) => Earlier ? Sentences.FromEarlierStage(words) : words;

    /// <summary>The role of its shapes.</summary>
    internal SceneRole Role => Kind switch
    {
        MarkKind.Target => SceneRole.Target,
        MarkKind.Inflammation => SceneRole.Inflammation,
        MarkKind.Outstanding => SceneRole.Outstanding,
        _ => SceneRole.Unread,
    };
}

/// <summary>The marks of a map.</summary>
internal static class Marks
{
    /// <summary>The marks of a map's content, in the order of painting.</summary>
    internal static IReadOnlyList<Mark> Of(MapContent content)
    {
        var own = content.ShowsBlocks ? StageCoverage.Of(content.Stage!) : ((StageCoverage Peripheral, StageCoverage Deep)?)null;
        return
        [
            .. OfMargin(content, Margin.Peripheral, own?.Peripheral).Concat(OfMargin(content, Margin.Deep, own?.Deep))
                .OrderBy(mark => mark.Kind).ThenBy(mark => mark.Place),
        ];
    }

    private static IEnumerable<Mark> OfMargin(MapContent content, Margin margin, StageCoverage? own)
    {
        var state = content.Margins[margin];
        var words = content.WordsOf(margin);
        return
        [
            .. Split(MarkKind.Target, margin, content.Margins.Target(margin), null, words.Target),
            .. Split(MarkKind.Inflammation, margin, state.Inflammation, own?.Inflammation, _ => Terms.Of(FindingKind.Inflammation).Capitalised()),
            .. Split(MarkKind.Outstanding, margin, state.Outstanding, own?.Positive, words.Positive),
            .. Split(MarkKind.Unread, margin, state.Unread, own?.Unseen, words.Unread),
        ];
    }

    // On a stage's own map, what the stage found is told apart from what earlier stages left; both are drawn.
    private static IEnumerable<Mark> Split(
        MarkKind kind, Margin margin, MarginRegion all, MarginRegion? own, Func<MarginRegion, string> found) => own is null
        ? Each(kind, margin, all, false, found)
        : Each(kind, margin, all.Intersect(own.Value), false, found).Concat(Each(kind, margin, all.Except(own.Value), true, found));

    private static IEnumerable<Mark> Each(
        MarkKind kind, Margin margin, MarginRegion region, bool earlier, Func<MarginRegion, string> found)
    {
        var place = margin == Margin.Peripheral ? MarkPlace.Peripheral : MarkPlace.Deep;
        foreach (var arc in region.Arcs)
        {
            yield return new Mark(kind, place, arc, earlier, found(MarginRegion.Of(arc)));
        }

        if (region.Centre)
        {
            yield return new Mark(kind, MarkPlace.Centre, null, earlier, found(MarginRegion.Of(null, true)));
        }
    }
}
