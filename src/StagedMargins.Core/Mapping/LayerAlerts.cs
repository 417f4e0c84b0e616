using StagedMargins.Core.ClockFace;
using StagedMargins.Core.Shape;

namespace StagedMargins.Core.Mapping;

/// <summary>What is said of a layer whatever the margins before it were.</summary>
internal static class LayerAlerts
{
    private static readonly Length Narrowest = new(500);
    private static readonly Length Widest = new(15_000);

    // An ellipse is measured as a polygon, which falls short of it by less than this.
    private const double ToleranceMm = 0.01;

    /// <summary>Pieces that overlap, inks that are unclear, rims of an unusual width.</summary>
    internal static IEnumerable<MarginAlert> Of(Stage stage) =>
    [
        .. CaseMargins.Both.Select(margin => new MarginAlert(AlertCode.PiecesOverlap, margin, Overlap(stage.Pieces, margin))).Where(alert => !alert.Region.IsEmpty),
        .. UnclearInks(stage),
        .. stage.Pieces.Where(piece => piece.Width is { } width && (width < Narrowest || width > Widest)).Select(piece => new MarginAlert(AlertCode.UnusualSize, null, MarginRegion.Of(piece.Arc))),
    ];

    /// <summary>A first layer that is smaller than the lesion before surgery.</summary>
    internal static IEnumerable<MarginAlert> SmallerThanLesion(SurgicalCase state, Stage stage) =>
        stage.Number == 1 && state.Facts.PreOperative is { } lesion && Defect.After([stage])?.Size is { } size
            && (size.LengthMm < lesion.Length.Millimetres - ToleranceMm || size.WidthMm < lesion.Width.Millimetres - ToleranceMm)
            ? [new MarginAlert(AlertCode.UnusualSize, null, MarginRegion.None)]
            : [];

    /// <summary>A layer that was taken before the last one.</summary>
    internal static IEnumerable<MarginAlert> OutOfOrder(SurgicalCase state, Stage stage) =>
        stage.Number >= 2 && state.Stages[stage.Number - 2].TakenAt.Utc > stage.TakenAt.Utc ? [new MarginAlert(AlertCode.TimesOutOfOrder, null, MarginRegion.None)] : [];

    private static MarginRegion Overlap(IReadOnlyList<Piece> pieces, Margin margin)
    {
        var (once, twice) = (MarginRegion.None, MarginRegion.None);
        foreach (var renewed in pieces.Select(piece => piece.Renews(margin)))
        {
            (once, twice) = (once.Union(renewed), twice.Union(once.Intersect(renewed)));
        }

        return twice;
    }

    // The same ink at both ends says nothing of which end is which; two inks at one cut contradict each other.
    private static IEnumerable<MarginAlert> UnclearInks(Stage stage)
    {
        foreach (var block in stage.Blocks)
        {
            if (block.Arc is not { } arc || arc.Minutes == ClockPosition.MinutesInCircle)
            {
                continue;
            }

            var isOneInk = block.FromInk is { } ink && IsSame(ink, block.ToInk);
            var isContradicted = stage.Blocks.Any(next => next.PieceNumber == block.PieceNumber && next.Arc is { } other && other.From == arc.To && next != block
                && block.ToInk is { } here && next.FromInk is { } there && !IsSame(here, there));
            if (isOneInk || isContradicted)
            {
                yield return new MarginAlert(AlertCode.InksUnclear, null, block.Region());
            }
        }
    }

    private static bool IsSame(string ink, string? other) => string.Equals(ink, other, StringComparison.OrdinalIgnoreCase);
}
