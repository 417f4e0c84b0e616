using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;

namespace StagedMargins.Drawing.Content;

/// <summary>
/// Which pieces of a layer an unread place lies in, where several lie under the same hours. That it is unread is the margins' to say;
/// this tells the pieces apart, for words alone.
/// </summary>
internal static class UnreadPieces
{
    /// <summary>The pieces of a place, for example <c>piece 2 (base)</c>; empty where the layer is one piece, or none leaves the place unread.</summary>
    internal static string InWords(Stage stage, Margin margin, MarginRegion place)
    {
        if (stage.Pieces.Count == 1)
        {
            return "";
        }

        var left = Enumerable.Range(1, stage.Pieces.Count).Select(piece => LeftBy(stage, piece, margin)).ToList();
        var disputed = place.Except(MarginRegion.UnionOf(left));
        return string.Join(", ", stage.Pieces
            .Select((piece, i) => (piece.Kind, Number: i + 1, Left: left[i].Union(disputed.Intersect(WithEvidence(stage, i + 1, margin)))))
            .Where(piece => !piece.Left.Intersect(place).IsEmpty)
            .Select(piece => Sentences.PieceOfKind(piece.Number, Terms.Of(piece.Kind))));
    }

    private static MarginRegion LeftBy(Stage stage, int piece, Margin margin) => stage.Pieces[piece - 1].Exposes(margin)
        .Except(MarginRegion.UnionOf(BlocksOf(stage, piece).Select(block => stage.Covered(block, margin))))
        .Union(MarginRegion.UnionOf(BlocksOf(stage, piece).Select(block => LeftBy(stage, block, margin))));

    private static MarginRegion LeftBy(Stage stage, Block block, Margin margin) => block is { IsAdequate: true, CountingReading.Findings: var findings }
        ? MarginRegion.UnionOf(findings.Where(finding => finding.IsUndecided() && finding.Margin == margin).Select(finding => finding.Region()))
        : stage.Covered(block, margin);

    private static MarginRegion WithEvidence(Stage stage, int piece, Margin margin) =>
        MarginRegion.UnionOf(BlocksOf(stage, piece).Where(block => block.Evidence.Count > 0).Select(block => stage.Covered(block, margin)));

    private static IEnumerable<Block> BlocksOf(Stage stage, int piece) => stage.Blocks.Where(block => block.PieceNumber == piece && !stage.IsReplaced(block));
}
