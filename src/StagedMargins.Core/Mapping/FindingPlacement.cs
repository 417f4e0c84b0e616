using StagedMargins.Core.ClockFace;
using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Mapping;

/// <summary>Puts the findings of a reading on the patient's clock face, and refuses those off their block.</summary>
internal static class FindingPlacement
{
    /// <summary>All findings of a reading, on the clock face.</summary>
    /// <param name="stage">The stage of the block.</param>
    /// <param name="block">The block.</param>
    /// <param name="entry">The reading.</param>
    /// <exception cref="InvalidEntryException">A finding lies off its block, or the findings don't go with the result.</exception>
    internal static IReadOnlyList<Finding> PlaceAll(Stage stage, Block block, ReadingEntry entry)
    {
        var placed = PlaceEach(stage, block, entry.Findings);
        return (entry.Outcome, placed.Any(finding => finding.IsPositive())) switch
        {
            (ReadingOutcome.Tumour, false) => throw new InvalidEntryException("findings", "A reading of tumour needs at least one finding of tumour or perineural invasion, with its place."),
            (ReadingOutcome.Clear, true) => throw new InvalidEntryException("findings", "A clear reading has no finding of tumour or perineural invasion."),
            _ when entry.NoMoreTissue && entry.Outcome != ReadingOutcome.Unreadable && !placed.Exists(finding => finding.IsUndecided()) =>
                throw new InvalidEntryException("noMoreTissue", "That there is no more tissue is said of an unreadable block, or of one with places that were not seen or not decided."),
            _ => placed,
        };
    }

    /// <summary>The findings of a permanent section or a second read; a positive result may name no place, and is then of the whole block.</summary>
    /// <exception cref="InvalidEntryException">A finding lies off its block, or the findings don't go with the result.</exception>
    internal static IReadOnlyList<Finding> PlaceEvidence(Stage stage, Block block, ReadingOutcome outcome, IReadOnlyList<FindingEntry> findings)
    {
        var placed = PlaceEach(stage, block, findings);
        return outcome == ReadingOutcome.Tumour || !placed.Exists(finding => finding.IsPositive())
            ? placed
            : throw new InvalidEntryException("findings", "Only a result of tumour has findings of tumour or perineural invasion.");
    }

    private static List<Finding> PlaceEach(Stage stage, Block block, IReadOnlyList<FindingEntry> findings)
    {
        if (findings.Count > RecordLimits.Findings)
        {
            throw new InvalidEntryException("findings", $"A reading has at most {RecordLimits.Findings} findings.");
        }

        var placed = new List<Finding>();
        for (var i = 0; i < findings.Count; i++)
        {
            try
            {
                placed.Add(Place(stage, block, findings[i]));
            }
            catch (InvalidEntryException e)
            {
                throw e.Within($"findings[{i}]");
            }
        }

        return placed;
    }

    private static Finding Place(Stage stage, Block block, FindingEntry entry)
    {
        var arc = ArcOnFace(block, entry);
        var finding = new Finding(entry.Kind, entry.Margin, arc, entry.Centre, entry.Along is { } along ? along with { Mirrored = block.Mirrored } : null, entry.Calibre);
        if (entry.Calibre is not null && !finding.IsPositive())
        {
            throw new InvalidEntryException("calibreMm", "Only tumour and perineural invasion have a calibre.");
        }

        if (!block.Shows.Has(entry.Margin))
        {
            throw new InvalidEntryException("margin", $"Block {block.Label} does not show the {Terms.Of(entry.Margin)}.");
        }

        if (entry.Margin == Margin.Peripheral && entry.Centre)
        {
            throw new InvalidEntryException("centre", "The centre belongs to the deep margin; a finding at the peripheral margin has an arc.");
        }

        if (entry.Centre && !block.Centre)
        {
            throw new InvalidEntryException("centre", $"Block {block.Label} does not include the centre.");
        }

        if (!block.Region().Contains(finding.Region()))
        {
            throw new InvalidEntryException("arc", $"This is outside block {block.Label}, which covers: {block.Region().InSentence()}.");
        }

        var covered = stage.Covered(block, entry.Margin);
        if (entry.Margin == Margin.Peripheral && covered.IsEmpty)
        {
            throw new InvalidEntryException("margin", $"Block {block.Label} is cut from a base, which has no peripheral margin.");
        }

        return covered.Contains(finding.Region())
            ? finding
            : throw new InvalidEntryException("arc", $"Block {block.Label} shows the {Terms.Of(entry.Margin)} only here: {covered.InSentence()}.");
    }

    private static ClockArc? ArcOnFace(Block block, FindingEntry entry)
    {
        if (entry.Mirrored is { } mirrored && mirrored != block.Mirrored)
        {
            throw new InvalidEntryException(
                "mirrored", block.Mirrored ? $"Block {block.Label} was recorded as mirrored; its findings are, too." : $"Block {block.Label} was not recorded as mirrored. If its slides are, correct the block first.");
        }

        if (entry is { Arc: not null, Along: not null })
        {
            throw new InvalidEntryException("along", "Place a finding by its arc or along the slide, not both.");
        }

        if (entry is { Arc: null, Along: null, Centre: false })
        {
            throw new InvalidEntryException("arc", "A finding needs its place: an arc, a stretch along the slide, or the centre.");
        }

        if (entry.Along is null)
        {
            return entry.Arc;
        }

        return block.Arc is { } arc
            ? (entry.Along with { Mirrored = block.Mirrored }).ToClockArc(arc)
            : throw new InvalidEntryException("along", $"Block {block.Label} covers the centre only, so it has no arc to place a finding along.");
    }
}
