using System.Globalization;
using StagedMargins.Core.ClockFace;

namespace StagedMargins.Core.Mapping;

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
    public ClockArc ToClockArc(ClockArc block)
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
