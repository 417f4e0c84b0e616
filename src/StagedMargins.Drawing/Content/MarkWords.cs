using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;

namespace StagedMargins.Drawing.Content;

/// <summary>What the marks of one margin say of their places: what was found there, or why it is unread.</summary>
internal sealed class MarkWords
{
    private readonly MapContent content;
    private readonly Margin margin;
    private readonly MarginState state;
    private readonly MarginRegion tumour;
    private readonly MarginRegion nerve;

    /// <summary>Reads the findings of a margin that no later layer has taken.</summary>
    internal MarkWords(MapContent content, Margin margin)
    {
        (this.content, this.margin, state) = (content, margin, content.Margins[margin]);
        (tumour, nerve) = (Left(FindingKind.Tumour), Left(FindingKind.PerineuralInvasion));
        NotSeen = Left(FindingKind.NotSeen).Intersect(state.Unread);
        Undetermined = Left(FindingKind.Undetermined).Intersect(state.Unread);
    }

    /// <summary>Unread places that a section does not show.</summary>
    internal MarginRegion NotSeen { get; }

    /// <summary>Unread places that were seen and can't be decided.</summary>
    internal MarginRegion Undetermined { get; }

    /// <summary>Unread places of which no more tissue is left, so that the next layer should take them.</summary>
    internal MarginRegion Exhausted => state.Exhausted;

    /// <summary>What is positive at a place, for example <c>Tumour</c>.</summary>
    internal string Positive(MarginRegion place) => (!tumour.Intersect(place).IsEmpty, !nerve.Intersect(place).IsEmpty) switch
    {
        (true, true) => Sentences.With(Terms.Of(FindingKind.Tumour), Terms.Of(FindingKind.PerineuralInvasion)).Capitalised(),
        (false, true) => Terms.Of(FindingKind.PerineuralInvasion).Capitalised(),
        _ => Terms.Of(FindingKind.Tumour).Capitalised(),
    };

    /// <summary>Why a place is unread, and in which piece where the layer has several, for example <c>Not seen in piece 2 (base)</c>.</summary>
    internal string Unread(MarginRegion place)
    {
        string[] why =
        [
            .. Where(place.Except(NotSeen).Except(Undetermined), Terms.Unread),
            .. Where(place.Intersect(NotSeen), Terms.Of(FindingKind.NotSeen)),
            .. Where(place.Intersect(Undetermined), Terms.Of(FindingKind.Undetermined)),
        ];
        var words = string.Join("; ", why).Capitalised();
        return content.ShowsBlocks && UnreadPieces.InWords(content.Stage!, margin, place) is { Length: > 0 } pieces ? Sentences.InPieces(words, pieces) : words;
    }

    /// <summary>What the next layer should take, and whether places without more tissue are among it.</summary>
    internal string Target(MarginRegion place) =>
        string.Join("; ", [Terms.Target, .. Where(place.Intersect(Exhausted), Sentences.NoMoreTissue)]).Capitalised();

    private static IEnumerable<string> Where(MarginRegion region, string words) => region.IsEmpty ? [] : [words];

    private MarginRegion Left(FindingKind kind) => content.Stages.Aggregate(
        MarginRegion.None, (left, stage) => left.Except(stage.Taken(margin)).Union(MarginRegion.UnionOf(Found(stage, kind))));

    // A block that was embedded again keeps what is positive, and leaves no place unread any more.
    private IEnumerable<MarginRegion> Found(Stage stage, FindingKind kind) =>
        from block in stage.Blocks
        from finding in block.CountingReading?.Findings ?? []
        where finding.Kind == kind && finding.Margin == margin && !(finding.IsUndecided() && stage.IsReplaced(block))
        select finding.Region();
}
