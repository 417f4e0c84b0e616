using System.Globalization;
using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Wording;

/// <summary>Parts of a case in words.</summary>
public static class CaseWords
{
    /// <summary>A moment as the clinic's clock showed it, for example <c>2026-03-03 09:10 (UTC−05:00)</c>.</summary>
    public static string InWords(this ClinicalTime time)
    {
        var local = time.ToDateTimeOffset();
        var sign = local.Offset < TimeSpan.Zero ? "−" : "+";
        return string.Create(CultureInfo.InvariantCulture, $"{local:yyyy-MM-dd HH:mm} (UTC{sign}{local.Offset:hh\\:mm})");
    }

    /// <summary>A day, for example <c>2026-03-03</c>.</summary>
    public static string InWords(this DateOnly day) => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    /// <summary>A site with its code, for example <c>left, alar crease (C44.3)</c>.</summary>
    public static string InWords(this Site site) => site.PlaceInWords() is { } place ? $"{place} ({site.Code})" : site.Code;

    /// <summary>Side and place of a site, for example <c>left, alar crease</c>; null where its code alone is known.</summary>
    public static string? PlaceInWords(this Site site)
    {
        var side = site.Side is { } known and not BodySide.NotApplicable ? Terms.Of(known) : null;
        string[] words = [.. new[] { side, site.Detail ?? Sites.Find(site.Code)?.Name }.OfType<string>()];
        return words.Length == 0 ? null : string.Join(", ", words);
    }

    /// <summary>A type of tumour with its code, for example <c>basal cell carcinoma (8090/3)</c>.</summary>
    public static string InWords(this Tumour tumour) => TumourTypes.Find(tumour.Morphology) is { } type ? $"{type.Name} ({type.Code})" : tumour.Morphology;

    /// <summary>A piece, for example <c>rim 7:45–9:15 o'clock, 2 mm wide</c>.</summary>
    public static string InWords(this Piece piece)
    {
        var where = piece.Kind == PieceKind.Whole ? "" : $" {MarginRegion.Of(piece.Arc, piece.Centre).InLabel()}";
        return Terms.Of(piece.Kind) + where + (piece.Width is { } width ? $", {Sentences.Wide($"{width}")}" : "");
    }

    /// <summary>How a case ended, for example <c>Case ended: cleared, 2026-03-03 12:10 (UTC−05:00)</c>.</summary>
    public static string InWords(this Ending ending) => Sentences.CaseEnded(
        ending.ContinuesOn is { } day && ending.Outcome == CaseOutcome.ContinuesLater ? Sentences.ContinuesOn(day.InWords()) : Terms.Of(ending.Outcome),
        ending.EndedAt.InWords());
}
