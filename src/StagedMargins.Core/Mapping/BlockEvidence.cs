namespace StagedMargins.Core.Mapping;

/// <summary>Where evidence about a block comes from.</summary>
public enum EvidenceSource
{
    /// <summary>Permanent sections.</summary>
    PermanentSection,

    /// <summary>A second reader.</summary>
    SecondRead,
}

/// <summary>What one permanent section or second read of a block showed.</summary>
/// <param name="Source">Where it comes from.</param>
/// <param name="Number">The number of the second read; 0 for permanent sections.</param>
/// <param name="Outcome">The result.</param>
/// <param name="Findings">What was seen, where places were named.</param>
/// <param name="Version">The number of its entry in the case.</param>
public sealed record BlockEvidence(EvidenceSource Source, int Number, ReadingOutcome Outcome, IReadOnlyList<Finding> Findings, int Version)
{
    /// <summary>
    /// Where it is positive and the reading that counts is not, on the margins that the block shows: the whole block where it names no
    /// place. Nothing once a surgeon has amended the reading in its knowledge.
    /// </summary>
    internal MarginRegion Disputes(Stage stage, Block block, Margin margin)
    {
        if (Outcome != ReadingOutcome.Tumour || block.CountingReading is not { } counting || (counting is { AmendsId: not null, SignedById: not null } && counting.Version > Version))
        {
            return MarginRegion.None;
        }

        var covered = stage.Covered(block, margin);
        if (!Findings.Any(finding => finding.IsPositive()))
        {
            return counting.Outcome == ReadingOutcome.Tumour ? MarginRegion.None : covered;
        }

        return PositiveOf(Findings, margin).Intersect(covered).Except(PositiveOf(counting.Findings, margin));
    }

    private static MarginRegion PositiveOf(IEnumerable<Finding> findings, Margin margin) =>
        MarginRegion.UnionOf(findings.Where(finding => finding.IsPositive() && finding.Margin == margin).Select(finding => finding.Region()));
}
