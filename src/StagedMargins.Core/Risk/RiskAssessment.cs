using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Risk;

/// <summary>What the published rules say of a tumour, by the facts entered. A calculation for trained staff, not a diagnosis.</summary>
/// <param name="Ajcc8">T category of AJCC 8, head and neck.</param>
/// <param name="BrighamWomens">T category of Brigham and Women's.</param>
/// <param name="AreaClass">Area class, as said or as the site has it.</param>
/// <param name="Prompts">What to think of.</param>
/// <param name="Boundary">The setting for exactly 2 and 4 cm that was used.</param>
/// <param name="RuleVersion">The version of the rules.</param>
public sealed record RiskAssessment(
    TCategory Ajcc8,
    TCategory BrighamWomens,
    AreaClass? AreaClass,
    IReadOnlyList<RiskPrompt> Prompts,
    SizeBoundary Boundary,
    string RuleVersion)
{
    /// <summary>The version of the rules here; it rises whenever one of them, or the list of sites, changes.</summary>
    public const string CurrentRules = "2026.1";

    /// <summary>The assessment of what is known before any slide.</summary>
    public static RiskAssessment Of(CaseFacts facts, SizeBoundary boundary) => Of(facts, boundary, perineuralOnSlides: false);

    /// <summary>The assessment of a case, with what its slides show.</summary>
    public static RiskAssessment Of(SurgicalCase surgicalCase, SizeBoundary boundary) => Of(surgicalCase, surgicalCase.Facts, boundary);

    /// <summary>The assessment of a case by facts that are about to be known of it.</summary>
    internal static RiskAssessment Of(SurgicalCase surgicalCase, CaseFacts facts, SizeBoundary boundary) => Of(facts, boundary, surgicalCase.Stages
        .SelectMany(stage => stage.Blocks)
        .Any(block => block.CountingReading is { } reading && reading.Findings.Any(finding => finding.Kind == FindingKind.PerineuralInvasion)));

    private static RiskAssessment Of(CaseFacts facts, SizeBoundary boundary, bool perineuralOnSlides) => new(
        Risk.Ajcc8.Classify(facts, boundary),
        Risk.BrighamWomens.Classify(facts),
        Sites.AreaOf(facts),
        RiskPrompt.For(facts, perineuralOnSlides),
        boundary,
        CurrentRules);
}
