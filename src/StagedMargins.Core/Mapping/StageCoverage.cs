namespace StagedMargins.Core.Mapping;

/// <summary>What one stage says about one margin, by the readings that count now.</summary>
/// <param name="Taken">What its pieces renew.</param>
/// <param name="Mapped">What its blocks cover of that.</param>
/// <param name="Adequate">What was seen of it: covered by blocks with an adequate reading and by none without.</param>
/// <param name="Positive">Where tumour or perineural invasion was found.</param>
/// <param name="Inflammation">Where inflammation was found.</param>
public sealed record StageCoverage(
    MarginRegion Taken,
    MarginRegion Mapped,
    MarginRegion Adequate,
    MarginRegion Positive,
    MarginRegion Inflammation)
{
    /// <summary>Reads a stage.</summary>
    public static StageCoverage Of(Stage stage, Margin margin)
    {
        MarginRegion Covered(IEnumerable<Block> blocks) =>
            MarginRegion.UnionOf(blocks.Select(block => stage.Renewed(block, margin)));

        var findings = stage.Blocks
            .SelectMany(block => block.CountingReading?.Findings ?? [])
            .Where(finding => finding.Margin == margin)
            .ToList();
        MarginRegion Found(Func<Finding, bool> which) =>
            MarginRegion.UnionOf(findings.Where(which).Select(finding => finding.Region()));

        return new StageCoverage(
            stage.Taken(margin),
            Covered(stage.Blocks),
            Covered(stage.Blocks.Where(block => block.IsAdequate)).Except(Covered(stage.Blocks.Where(block => !block.IsAdequate))),
            Found(finding => finding.IsPositive()),
            Found(finding => finding.Kind == FindingKind.Inflammation));
    }
}
