using System.Globalization;
using StagedMargins.Core.ClockFace;

namespace StagedMargins.Core.Mapping;

/// <summary>What was seen at a place of a block.</summary>
public enum FindingKind
{
    /// <summary>Tumour. Positive.</summary>
    Tumour,

    /// <summary>Tumour in or around a nerve. Positive.</summary>
    PerineuralInvasion,

    /// <summary>Dense inflammation, which may hide tumour. A caution, not positive.</summary>
    Inflammation,

    /// <summary>Actinic change.</summary>
    ActinicChange,

    /// <summary>Scar.</summary>
    Scar,

    /// <summary>Anything else, told in the note.</summary>
    Other,
}

/// <summary>
/// A stretch along the slide, as fractions of the block's arc from its first inked edge to its second.
/// </summary>
/// <param name="Start">Where it begins, 0 to 1.</param>
/// <param name="End">Where it ends, greater than <paramref name="Start"/>, up to 1.</param>
/// <param name="Mirrored">True where the slide shows the mirror image, so that fractions count from the second inked edge.</param>
public sealed record AlongSlide(decimal Start, decimal End, bool Mirrored)
{
    /// <summary>
    /// The stretch on the patient's clock face, rounded outward to whole clock minutes, so that it is never narrower than what
    /// was seen.
    /// </summary>
    /// <param name="block">The arc of the block that was read.</param>
    /// <exception cref="InvalidEntryException">Fractions outside 0 to 1, or in the wrong order.</exception>
    public ClockArc OnFace(ClockArc block)
    {
        if (Start < 0 || End > 1 || Start >= End)
        {
            throw new InvalidEntryException("along", "Give two fractions of the block's arc, both from 0 to 1, the first smaller than the second.");
        }

        var (start, end) = Mirrored ? (1 - End, 1 - Start) : (Start, End);
        var first = (int)decimal.Floor(start * block.Minutes);
        var last = (int)decimal.Ceiling(end * block.Minutes);
        return ClockArc.Starting(block.From.Plus(first), last - first);
    }

    /// <summary>The stretch in words.</summary>
    public override string ToString() =>
        string.Create(CultureInfo.InvariantCulture, $"{Start} to {End} along the slide{(Mirrored ? ", mirrored" : "")}");
}

/// <summary>Something located inside a reading, on the patient's clock face. Immutable.</summary>
/// <param name="Kind">What was seen.</param>
/// <param name="Margin">On which margin.</param>
/// <param name="Arc">Where; null for a finding at the centre alone.</param>
/// <param name="Centre">True where it is at the middle of the floor.</param>
/// <param name="Along">How the reader gave the place, where it was given along the slide.</param>
public sealed record Finding(FindingKind Kind, Margin Margin, ClockArc? Arc, bool Centre, AlongSlide? Along)
{
    /// <summary>True for what counts as tumour at the margin.</summary>
    public bool IsPositive() => Kind is FindingKind.Tumour or FindingKind.PerineuralInvasion;

    /// <summary>Where it is, as a part of its margin.</summary>
    public MarginRegion Region() => MarginRegion.Of(Arc, Centre);
}

/// <summary>A finding as the reader gives it: by clock arc, along the slide, at the centre, or an arc with the centre.</summary>
/// <param name="Kind">What was seen.</param>
/// <param name="Margin">On which margin.</param>
/// <param name="Arc">Where on the clock face; not together with <paramref name="Along"/>.</param>
/// <param name="Along">Where along the slide; not together with <paramref name="Arc"/>.</param>
/// <param name="Centre">True where it is at the middle of the floor.</param>
public sealed record FindingEntry(FindingKind Kind, Margin Margin, ClockArc? Arc, AlongSlide? Along, bool Centre);
