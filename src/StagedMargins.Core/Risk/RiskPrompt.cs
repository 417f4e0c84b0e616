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

/// <summary>What was entered that gives a prompt.</summary>
public enum RiskPromptFact
{
    /// <summary>Perineural invasion, known before or seen on slides.</summary>
    PerineuralInvasion,

    /// <summary>Positive nodes.</summary>
    PositiveNodes,

    /// <summary>A tumour that can't be taken out whole.</summary>
    Unresectable,

    /// <summary>Verrucous carcinoma.</summary>
    VerrucousCarcinoma,

    /// <summary>Basal cell naevus syndrome.</summary>
    BasalCellNaevusSyndrome,
}

/// <summary>A prompt with what gives it.</summary>
/// <param name="Code">Which.</param>
/// <param name="Facts">What gives it, where the prompt names that.</param>
public sealed record RiskPrompt(RiskPromptCode Code, IReadOnlyList<RiskPromptFact> Facts)
{
    /// <summary>The prompt in a sentence.</summary>
    public string InWords() => Code switch
    {
        RiskPromptCode.ConsiderRadiationOpinion => Sentences.ConsiderRadiationOpinion(Listed),
        RiskPromptCode.AvoidRadiation => Sentences.AvoidRadiation(Listed),
        _ => Sentences.CurettageUnsuitable,
    };

    private string Listed => string.Join(", ", Facts.Select(Words));

    /// <summary>The prompts that the facts of a case give (common practice, no source).</summary>
    /// <param name="facts">The facts.</param>
    /// <param name="perineuralOnSlides">True where a reading that counts shows perineural invasion.</param>
    public static IReadOnlyList<RiskPrompt> For(CaseFacts facts, bool perineuralOnSlides)
    {
        var tumour = facts.Tumour;
        var nerves = perineuralOnSlides || tumour.Perineural is { Present: true };
        var opinion = SquamousRules.OnlyWhere(
            (RiskPromptFact.PerineuralInvasion, nerves), (RiskPromptFact.PositiveNodes, tumour.PositiveNodes == true), (RiskPromptFact.Unresectable, tumour.Unresectable == true)).ToList();
        var avoid = SquamousRules.OnlyWhere(
            (RiskPromptFact.VerrucousCarcinoma, tumour.Morphology == TumourTypes.Verrucous), (RiskPromptFact.BasalCellNaevusSyndrome, tumour.NevoidBasalCellSyndrome == true)).ToList();
        return
        [
            .. SquamousRules.OnlyWhere(
                (new RiskPrompt(RiskPromptCode.ConsiderRadiationOpinion, opinion), opinion.Count > 0),
                (new RiskPrompt(RiskPromptCode.AvoidRadiation, avoid), avoid.Count > 0),
                (new RiskPrompt(RiskPromptCode.CurettageUnsuitable, []), tumour.DeepestPlane >= AnatomicalPlane.SubcutaneousFat)),
        ];
    }

    private static string Words(RiskPromptFact fact) => fact switch
    {
        RiskPromptFact.PerineuralInvasion => Terms.Of(FindingKind.PerineuralInvasion),
        RiskPromptFact.PositiveNodes => Terms.PositiveNodes,
        RiskPromptFact.Unresectable => Terms.UnresectableTumour,
        RiskPromptFact.VerrucousCarcinoma => Terms.OfTumour(TumourTypes.Verrucous),
        _ => Terms.BasalCellNaevusSyndrome,
    };
}
