using System.Globalization;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;

namespace StagedMargins.Drawing.Content;

/// <summary>Words that only maps and paper need.</summary>
internal static class MapWords
{
    // More numbers than these in one line help nobody; the face shows every one.
    private const int MostArcs = 24;
    private const int MostPieces = 6;

    /// <summary>The view's name and which way it turns; it stands above every face.</summary>
    internal static string Of(MapView view) => view == MapView.Slide ? Sentences.SlideView : Sentences.PatientView;

    /// <summary>How a view is to be looked at.</summary>
    internal static string Orientation(MapView view) => view == MapView.Slide
        ? $"{Sentences.SeenOnSlide} {Sentences.NeverCutFromThisView}"
        : Sentences.SeenFromSkin;

    /// <summary>A length in mm, one decimal.</summary>
    internal static string Millimetres(double mm) => string.Create(CultureInfo.InvariantCulture, $"{mm:0.0} mm");

    /// <summary>A margin with places on it, cut short where there are too many to read.</summary>
    internal static string Of(Margin margin, MarginRegion region) => region.Arcs.Count <= MostArcs
        ? margin.WithPlaces(region)
        : Sentences.MarginPlaces(Terms.Of(margin), $"{region.Arcs.Take(MostArcs).InLabel()} and {region.Arcs.Count - MostArcs} more, see the face{(region.Centre ? $", {Terms.Centre}" : "")}");

    /// <summary>The pieces of a layer, for example <c>rim 7:45–9:15 o'clock, 2 mm wide</c>; numbered where there are several.</summary>
    internal static string Of(IReadOnlyList<Piece> pieces)
    {
        var more = pieces.Count > MostPieces ? $"; and {pieces.Count - MostPieces} more pieces" : "";
        return string.Join("; ", pieces.Take(MostPieces).Select((piece, i) => pieces.Count == 1 ? Of(piece) : Sentences.PieceNumbered(i + 1, Of(piece)))) + more;
    }

    /// <summary>A piece, and whether it is only a part of the floor of its arc.</summary>
    internal static string Of(Piece piece) => piece.InWords() + (piece.Partial ? $", {Sentences.PartOfFloor}" : "");

    /// <summary>What a block covers, of which piece where there are several, and the margin where it shows one alone.</summary>
    internal static string Covered(Stage stage, Block block)
    {
        var place = block.Region().InLabel() + (block.Shows == ShownMargins.Both ? "" : $", {Terms.Of(block.Shows)}");
        return stage.Pieces.Count == 1 ? place : Sentences.PieceNumbered(block.PieceNumber, place);
    }

    /// <summary>A block's label as it stands on the face, for example <c>A</c>, or <c>A·2</c> where the layer has several pieces.</summary>
    internal static string OnFace(Stage stage, Block block)
    {
        var label = stage.Pieces.Count == 1 ? block.Label : $"{block.Label}·{block.PieceNumber}";
        return stage.IsReplaced(block) ? Sentences.Replaced(label) : label;
    }

    /// <summary>The labels of the blocks in which the tissue of a block was embedded again; empty for none.</summary>
    internal static string BlocksReplacing(this Stage stage, Block block) => stage.IsReplaced(block)
        ? string.Join(", ", stage.Blocks.Where(other => other.Replaces.Contains(block.Label, StringComparer.OrdinalIgnoreCase)).Select(other => other.Label))
        : "";

    /// <summary>What was seen where, one after the other; empty for nothing.</summary>
    internal static string Of(IEnumerable<Finding> findings) =>
        string.Join("; ", findings.Select(finding => Sentences.At(Terms.Of(finding.Kind), Terms.Of(finding.Margin), finding.Region().InSentence())));

    /// <summary>The reading of a block, for example <c>Tumour at the peripheral margin, 7:30–9:00 o'clock</c>.</summary>
    internal static string ReadingOf(Stage stage, Block block)
    {
        var read = ReadingOf(block);
        return stage.BlocksReplacing(block) is { Length: > 0 } by ? $"{Sentences.ReplacedBy(by).Capitalised()}. {read}" : read;
    }

    private static string ReadingOf(Block block)
    {
        if (block.CountingReading is not { } reading)
        {
            return Terms.Unread.Capitalised();
        }

        var parts = reading.Places().Select(found => Sentences.At(Terms.Of(found.Kind), Terms.Of(found.Margin), found.Region.InLabel()));

        // "Tumour at the peripheral margin" says the outcome already.
        var says = reading.Findings.Any(finding => finding.Kind == FindingKind.Tumour) ? [] : new[] { Terms.Of(reading.Outcome) };
        var signed = reading.SignedById is null ? [Terms.NotSigned] : Array.Empty<string>();
        var exhausted = reading.NoMoreTissue ? [Sentences.NoMoreTissue] : Array.Empty<string>();
        return string.Join("; ", [.. says, .. parts, .. exhausted, .. signed]).Capitalised();
    }
}
