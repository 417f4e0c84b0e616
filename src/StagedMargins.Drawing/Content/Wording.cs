using System.Globalization;
using StagedMargins.Core;
using StagedMargins.Core.ClockFace;
using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Drawing.Content;

/// <summary>The words of the maps.</summary>
internal static class Wording
{
    /// <summary>The caution that stands on every map.</summary>
    internal const string Disclaimer = Core.Disclaimer.Text;

    /// <summary>The view's name and which way it turns; it stands above every face.</summary>
    internal static string Of(MapView view) => view == MapView.Slide
        ? "Slide view: mirrored; 3 o'clock on the left"
        : "Patient view: 3 o'clock on the right";

    /// <summary>How a view is to be looked at.</summary>
    internal static string Orientation(MapView view) => view == MapView.Slide
        ? "Seen as the deep side of the tissue or its slide shows it, counter-clockwise. Do not cut by this view."
        : "Seen as one faces the skin, clockwise.";

    // More numbers than these in one line help nobody; the face shows every one.
    private const int MostArcs = 24;
    private const int MostPieces = 6;

    /// <summary>A state, for example <c>Tumour outstanding</c>.</summary>
    internal static string Of(CaseState state) => state switch
    {
        CaseState.NoTissue => "No layer taken",
        CaseState.AwaitingReadings => "Awaiting readings",
        CaseState.TumourOutstanding => "Tumour outstanding",
        _ => "Cleared",
    };

    /// <summary>How a case ended, for example <c>Ended as cleared, 2026-03-03 12:10 (UTC−05:00)</c>.</summary>
    internal static string Of(Ending ending) => (ending.Outcome switch
    {
        CaseOutcome.Cleared => "Case ended as cleared",
        CaseOutcome.StoppedWithTumour => "Case ended: stopped with tumour",
        _ => ending.ContinuesOn is { } day
            ? $"Case ended: continues on {Of(day)}"
            : "Case ended: continues on another day",
    }) + $", {Of(ending.EndedAt)}";

    /// <summary>A time as the clinic's clock showed it, for example <c>2026-03-03 09:10 (UTC−05:00)</c>.</summary>
    internal static string Of(ClinicalTime time)
    {
        var local = time.ToDateTimeOffset();
        var sign = local.Offset < TimeSpan.Zero ? "−" : "+";
        return string.Create(CultureInfo.InvariantCulture, $"{local:yyyy-MM-dd HH:mm} (UTC{sign}{local.Offset:hh\\:mm})");
    }

    /// <summary>How a wound is closed.</summary>
    internal static string Of(RepairKind repair) => EnumNames<RepairKind>.Spaced(repair);

    /// <summary>A day, for example <c>2026-03-03</c>.</summary>
    internal static string Of(DateOnly day) => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    /// <summary>A length in mm, one decimal.</summary>
    internal static string Millimetres(double mm) => string.Create(CultureInfo.InvariantCulture, $"{mm:0.0} mm");

    /// <summary>A site, for example <c>left, alar crease (C44.3)</c>.</summary>
    internal static string Of(Site site)
    {
        var side = site.Side switch
        {
            BodySide.Left => "left",
            BodySide.Right => "right",
            BodySide.Midline => "midline",
            _ => null,
        };
        string[] words = [.. new[] { side, site.Detail }.OfType<string>()];
        return words.Length == 0 ? site.Code : $"{string.Join(", ", words)} ({site.Code})";
    }

    /// <summary>Arcs in numbers, cut short where there are too many to read.</summary>
    internal static string Of(IReadOnlyCollection<ClockArc> arcs)
    {
        var shown = arcs.Take(MostArcs).Select(arc => arc.IsWhole ? "whole circle" : arc.ToString());
        var more = arcs.Count > MostArcs ? $" and {arcs.Count - MostArcs} more, see the face" : "";
        return string.Join(", ", shown) + more;
    }

    /// <summary>A region in words.</summary>
    internal static string Of(MarginRegion region) => (region.Arcs.IsEmpty, region.Centre) switch
    {
        (true, true) => "centre",
        (false, true) => $"{Of(region.Arcs)}, with centre",
        _ => Of(region.Arcs),
    };

    /// <summary>The pieces of a layer, for example <c>rim 07:45–09:15, 2 mm wide</c>.</summary>
    internal static string Of(IReadOnlyList<Piece> pieces)
    {
        var more = pieces.Count > MostPieces ? $"; and {pieces.Count - MostPieces} more pieces" : "";
        return string.Join("; ", pieces.Take(MostPieces).Select(Of)) + more;
    }

    /// <summary>A plane in words, for example <c>subcutaneous fat</c>.</summary>
    internal static string Of(AnatomicalPlane plane) =>
        plane == AnatomicalPlane.SubcutaneousFat ? "subcutaneous fat" : EnumNames<AnatomicalPlane>.Of(plane);

    /// <summary>The reading of a block, for example <c>Tumour: edge 07:30–09:00</c>.</summary>
    internal static string ReadingOf(Block block)
    {
        if (block.CountingReading is not { } reading)
        {
            return "Not read";
        }

        var outcome = reading.Outcome switch
        {
            ReadingOutcome.Clear => "Clear",
            ReadingOutcome.Tumour => "Tumour",
            _ => "Unreadable, recut needed",
        };
        var parts = reading.Findings
            .GroupBy(finding => (finding.Kind, finding.Margin))
            .OrderBy(group => group.Key)
            .Select(group => $"{Of(group.Key.Kind)} at the {PlaceOf(group.Key.Margin)}: {Of(MarginRegion.UnionOf(group.Select(finding => finding.Region())))}")
            .ToList();
        IEnumerable<string> unsigned = reading.SignedById is null ? ["to be countersigned"] : [];

        // "Tumour at the edge" says the outcome already.
        var says = reading.Findings.Any(finding => finding.Kind == FindingKind.Tumour) ? Array.Empty<string>() : [outcome];
        var words = string.Join("; ", [.. says, .. parts, .. unsigned]);
        return char.ToUpperInvariant(words[0]) + words[1..];
    }

    /// <summary>A finding's kind in words.</summary>
    internal static string Of(FindingKind kind) => kind switch
    {
        FindingKind.Tumour => "tumour",
        FindingKind.PerineuralInvasion => "perineural invasion",
        FindingKind.Inflammation => "inflammation",
        FindingKind.ActinicChange => "actinic change",
        FindingKind.Scar => "scar",
        _ => "other finding",
    };

    private static string PlaceOf(Margin margin) => margin == Margin.Peripheral ? "edge" : "floor";

    /// <summary>A kind of piece in words.</summary>
    internal static string Of(PieceKind kind) => kind switch
    {
        PieceKind.Whole => "whole layer",
        PieceKind.Rim => "rim",
        PieceKind.Base => "base",
        _ => "rim and base",
    };

    /// <summary>A piece, for example <c>rim 07:45–09:15, 2 mm wide</c>.</summary>
    internal static string Of(Piece piece)
    {
        var where = piece.Arc is { } arc ? arc.IsWhole ? " whole circle" : $" {arc}" : "";
        var centre = piece.Centre && piece.Kind != PieceKind.Whole ? " with centre" : "";
        var width = piece.Width is { } w ? $", {w} wide" : "";
        return Of(piece.Kind) + where + centre + width;
    }
}
