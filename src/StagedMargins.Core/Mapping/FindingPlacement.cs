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
        if (entry.Findings.Count > RecordLimits.Findings)
        {
            throw new InvalidEntryException("findings", $"A reading has at most {RecordLimits.Findings} findings.");
        }

        var placed = new List<Finding>();
        for (var i = 0; i < entry.Findings.Count; i++)
        {
            try
            {
                placed.Add(Place(stage, block, entry.Findings[i]));
            }
            catch (InvalidEntryException e)
            {
                throw e.Within($"findings[{i}]");
            }
        }

        return (entry.Outcome, placed.Any(finding => finding.IsPositive())) switch
        {
            (ReadingOutcome.Tumour, false) => throw new InvalidEntryException("findings", "A reading of tumour needs at least one finding of tumour or perineural invasion, with its place."),
            (ReadingOutcome.Clear, true) => throw new InvalidEntryException("findings", "A clear reading has no finding of tumour or perineural invasion."),
            _ => placed,
        };
    }

    private static Finding Place(Stage stage, Block block, FindingEntry entry)
    {
        var arc = ArcOnFace(block, entry);
        var finding = new Finding(entry.Kind, entry.Margin, arc, entry.Centre, entry.Along);
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
            ? entry.Along.ToClockArc(arc)
            : throw new InvalidEntryException("along", $"Block {block.Label} covers the centre only, so it has no arc to place a finding along.");
    }
}
