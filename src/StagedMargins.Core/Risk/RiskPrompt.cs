using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Risk;

/// <summary>Something for the surgeon to think of. A prompt, never an order.</summary>
public enum RiskPromptCode
{
    /// <summary>Perineural invasion, positive nodes or an unresectable tumour.</summary>
    ConsiderRadiationOpinion,

    /// <summary>Verrucous carcinoma or naevoid basal cell syndrome.</summary>
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
    public static IReadOnlyList<RiskPrompt> Of(CaseFacts facts, bool perineuralOnSlides)
    {
        var tumour = facts.Tumour;
        var nerves = perineuralOnSlides || tumour.Perineural is { Present: true };
        var opinion = Listed((nerves, "perineural invasion"), (tumour.PositiveNodes == true, "positive nodes"), (tumour.Unresectable == true, "an unresectable tumour"));
        var avoid = Listed((tumour.Morphology == TumourTypes.Verrucous, "verrucous carcinoma"), (tumour.NevoidBasalCellSyndrome == true, "naevoid basal cell syndrome"));
        return
        [
            .. SquamousRules.OnlyWhere(
                (new RiskPrompt(RiskPromptCode.ConsiderRadiationOpinion, $"Recorded: {opinion}. Consider whether an opinion on radiation is of use; the surgeon decides."), opinion.Length > 0),
                (new RiskPrompt(RiskPromptCode.AvoidRadiation, $"Recorded: {avoid}. Radiation is usually avoided here; the surgeon decides."), avoid.Length > 0),
                (new RiskPrompt(RiskPromptCode.CurettageUnsuitable, "Recorded: invasion into fat. Curettage is usually not suitable and excision needed; the surgeon decides."), tumour.DeepestPlane >= AnatomicalPlane.SubcutaneousFat)),
        ];
    }

    private static string Listed(params IEnumerable<(bool Holds, string Words)> items) =>
        string.Join(", ", items.Where(item => item.Holds).Select(item => item.Words));
}
