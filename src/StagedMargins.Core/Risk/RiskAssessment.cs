using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Risk;

/// <summary>What the published rules say of a tumour, by the facts entered and the slides read. A calculation for trained staff, not a diagnosis.</summary>
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
    public const string CurrentRules = "2026.2";

    // Assessments by these are kept as they were made, and no longer made.
    private static readonly string[] EarlierRules = ["2026.1"];

    private IReadOnlyList<RiskConflict> conflicts = [];

    /// <summary>Every version of the rules that this program knows, the current one last.</summary>
    public static IReadOnlyList<string> KnownRules() => [.. EarlierRules, CurrentRules];

    /// <summary>True where it was made by rules before the current ones.</summary>
    public bool IsByEarlierRules() => EarlierRules.Contains(RuleVersion);

    /// <summary>Where slides and intake differ. Not kept with an entry: it follows from the entries before it.</summary>
    public IReadOnlyList<RiskConflict> Conflicts() => conflicts;

    /// <summary>The assessment of what is known before any slide.</summary>
    public static RiskAssessment Of(CaseFacts facts, SizeBoundary boundary) => Of(facts, SlideEvidence.None, boundary, isBeforeStage1: true);

    /// <summary>The assessment of a case, with what its slides show.</summary>
    public static RiskAssessment Of(SurgicalCase surgicalCase, SizeBoundary boundary) => Of(surgicalCase, surgicalCase.Facts, boundary);

    /// <summary>The assessment of a case by facts that are about to be known of it.</summary>
    internal static RiskAssessment Of(SurgicalCase surgicalCase, CaseFacts facts, SizeBoundary boundary) =>
        Of(facts, SlideEvidence.Of(surgicalCase), boundary, isBeforeStage1: surgicalCase.Stages.Count == 0);

    private static RiskAssessment Of(CaseFacts facts, SlideEvidence slides, SizeBoundary boundary, bool isBeforeStage1)
    {
        var known = slides.Over(facts);
        var brighamWomens = Risk.BrighamWomens.Classify(known);
        return new RiskAssessment(
            Risk.Ajcc8.Classify(known, boundary),
            brighamWomens,
            Sites.AreaOf(facts),
            RiskPrompt.For(known, brighamWomens, isBeforeStage1),
            boundary,
            CurrentRules)
        {
            conflicts = slides.Against(facts),
        };
    }
}
