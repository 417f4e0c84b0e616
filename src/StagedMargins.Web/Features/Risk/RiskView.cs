using StagedMargins.Core.Intake;
using StagedMargins.Core.Risk;

namespace StagedMargins.Web.Features.Risk;

/// <summary>An assessment as it is sent.</summary>
/// <param name="Ajcc8">T category of AJCC 8, head and neck.</param>
/// <param name="BrighamWomens">T category of Brigham and Women's.</param>
/// <param name="Missing">Facts that are not known and could raise one of the categories or the other.</param>
/// <param name="AtLeast">True where there are any.</param>
/// <param name="Conflicts">Facts of which the slides show more than intake says; the higher category holds. None in an assessment that was kept.</param>
/// <param name="AreaClass">Area class, as said or as the site has it; null where neither tells.</param>
/// <param name="Prompts">What the surgeon may think of; never an order.</param>
/// <param name="Sentences">Area class and T categories in words.</param>
/// <param name="SizeBoundary">The setting for exactly 2 and 4 cm that was used.</param>
/// <param name="RuleVersion">The version of the rules.</param>
public sealed record RiskView(
    TCategoryView Ajcc8,
    TCategoryView BrighamWomens,
    IReadOnlyList<TFact> Missing,
    bool AtLeast,
    IReadOnlyList<RiskConflictView> Conflicts,
    AreaClass? AreaClass,
    IReadOnlyList<RiskPromptView> Prompts,
    IReadOnlyList<string> Sentences,
    SizeBoundary SizeBoundary,
    string RuleVersion)
{
    /// <summary>An assessment as it is sent.</summary>
    public static RiskView Of(RiskAssessment risk) => new(
        TCategoryView.Of(risk.Ajcc8),
        TCategoryView.Of(risk.BrighamWomens),
        [.. risk.Ajcc8.Missing.Union(risk.BrighamWomens.Missing)],
        risk.Ajcc8.IsAtLeast() || risk.BrighamWomens.IsAtLeast(),
        [.. risk.Conflicts().Select(conflict => new RiskConflictView(conflict.Fact, conflict.Intake, conflict.Slides, conflict.InWords()))],
        risk.AreaClass,
        [.. risk.Prompts.Select(prompt => new RiskPromptView(prompt.Code, prompt.InWords()))],
        RiskSentences.Of(risk),
        risk.Boundary,
        risk.RuleVersion);
}

/// <summary>A T category as it is sent.</summary>
/// <param name="T">The category, for example <c>T2b</c>; null where the system does not apply, or what is known leaves it open.</param>
/// <param name="Factors">The factors that produced it.</param>
/// <param name="Applies">True where the system applies to the tumour and its site.</param>
/// <param name="Missing">Facts that are not known and could raise it.</param>
/// <param name="AtLeast">True where there are any: the true category may be higher.</param>
public sealed record TCategoryView(string? T, IReadOnlyList<TFactor> Factors, bool Applies, IReadOnlyList<TFact> Missing, bool AtLeast)
{
    /// <summary>A category as it is sent.</summary>
    public static TCategoryView Of(TCategory category) => new(category.T, category.Factors, category.Applies, category.Missing, category.IsAtLeast());
}

/// <summary>A fact of which the slides show more than intake says, as it is sent.</summary>
/// <param name="Fact">Which.</param>
/// <param name="Intake">What intake says, in words.</param>
/// <param name="Slides">What the slides show, in words.</param>
/// <param name="Message">Both in a sentence.</param>
public sealed record RiskConflictView(TFact Fact, string Intake, string Slides, string Message);

/// <summary>A prompt as it is sent.</summary>
/// <param name="Code">Which.</param>
/// <param name="Message">In a sentence.</param>
public sealed record RiskPromptView(RiskPromptCode Code, string Message);

/// <summary>An assessment that was kept, as it is sent.</summary>
/// <param name="AssessedAt">When facts were entered.</param>
/// <param name="Risk">What the rules of that day said.</param>
public sealed record KeptAssessmentView(DateTimeOffset AssessedAt, RiskView Risk)
{
    /// <summary>A kept assessment as it is sent.</summary>
    public static KeptAssessmentView Of(KeptAssessment kept) => new(kept.AssessedAt.ToDateTimeOffset(), RiskView.Of(kept.Assessment));
}
