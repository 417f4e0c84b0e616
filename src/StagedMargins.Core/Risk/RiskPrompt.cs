using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Risk;

/// <summary>Something for the surgeon to think of. A prompt, never an order.</summary>
public enum RiskPromptCode
{
    /// <summary>Perineural invasion, positive nodes or an unresectable tumour.</summary>
    ConsiderRadiationOpinion,

    /// <summary>Verrucous carcinoma or basal cell naevus syndrome.</summary>
    AvoidRadiation,

    /// <summary>Invasion into fat.</summary>
    CurettageUnsuitable,
}

/// <summary>A prompt with its words.</summary>
/// <param name="Code">Which.</param>
/// <param name="Message">In a sentence.</param>
public sealed record RiskPrompt(RiskPromptCode Code, string Message)
{
    /// <summary>The prompts that the facts of a case give (common practice, no source).</summary>
    /// <param name="facts">The facts.</param>
    /// <param name="perineuralOnSlides">True where a reading that counts shows perineural invasion.</param>
    public static IReadOnlyList<RiskPrompt> For(CaseFacts facts, bool perineuralOnSlides)
    {
        var tumour = facts.Tumour;
        var nerves = perineuralOnSlides || tumour.Perineural is { Present: true };
        var opinion = Listed((nerves, Terms.Of(FindingKind.PerineuralInvasion)), (tumour.PositiveNodes == true, Terms.PositiveNodes), (tumour.Unresectable == true, Terms.UnresectableTumour));
        var avoid = Listed((tumour.Morphology == TumourTypes.Verrucous, Terms.OfTumour(TumourTypes.Verrucous)), (tumour.NevoidBasalCellSyndrome == true, Terms.BasalCellNaevusSyndrome));
        return
        [
            .. SquamousRules.OnlyWhere(
                (new RiskPrompt(RiskPromptCode.ConsiderRadiationOpinion, Sentences.ConsiderRadiationOpinion(opinion)), opinion.Length > 0),
                (new RiskPrompt(RiskPromptCode.AvoidRadiation, Sentences.AvoidRadiation(avoid)), avoid.Length > 0),
                (new RiskPrompt(RiskPromptCode.CurettageUnsuitable, Sentences.CurettageUnsuitable), tumour.DeepestPlane >= AnatomicalPlane.SubcutaneousFat)),
        ];
    }

    private static string Listed(params IEnumerable<(bool Holds, string Words)> items) =>
        string.Join(", ", items.Where(item => item.Holds).Select(item => item.Words));
}
