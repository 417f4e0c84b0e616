using StagedMargins.Core.Intake;
using StagedMargins.Core.Risk;

namespace StagedMargins.Web.Features.Risk;

/// <summary>An assessment as it is sent.</summary>
/// <param name="Ajcc8">T category of AJCC 8, head and neck.</param>
/// <param name="BrighamWomens">T category of Brigham and Women's.</param>
/// <param name="AreaClass">Area class, as said or as the site has it; null where neither tells.</param>
/// <param name="Prompts">What the surgeon may think of; never an order.</param>
/// <param name="Sentences">Area class and T categories in words.</param>
/// <param name="SizeBoundary">The setting for exactly 2 and 4 cm that was used.</param>
/// <param name="RuleVersion">The version of the rules.</param>
public sealed record RiskView(
    TCategory Ajcc8,
    TCategory BrighamWomens,
    AreaClass? AreaClass,
    IReadOnlyList<RiskPromptView> Prompts,
    IReadOnlyList<string> Sentences,
    SizeBoundary SizeBoundary,
    string RuleVersion)
{
    /// <summary>An assessment as it is sent.</summary>
    public static RiskView Of(RiskAssessment risk) =>
        new(risk.Ajcc8, risk.BrighamWomens, risk.AreaClass, [.. risk.Prompts.Select(prompt => new RiskPromptView(prompt.Code, prompt.InWords()))], RiskSentences.Of(risk), risk.Boundary, risk.RuleVersion);
}

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
