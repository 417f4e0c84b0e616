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

    /// <summary>Invasion into fat, before the first layer.</summary>
    CurettageUnsuitable,

    /// <summary>Brigham and Women's T2b or T3.</summary>
    ConsiderNodalImaging,
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

    /// <summary>The site was irradiated before.</summary>
    PriorRadiation,
}

/// <summary>A prompt with what gives it.</summary>
/// <param name="Code">Which.</param>
/// <param name="Facts">What gives it, where the prompt names that.</param>
public sealed record RiskPrompt(RiskPromptCode Code, IReadOnlyList<RiskPromptFact> Facts)
{
    /// <summary>The prompt in a sentence.</summary>
    public string InWords() => Code switch
    {
        RiskPromptCode.ConsiderRadiationOpinion when Facts.Contains(RiskPromptFact.PriorRadiation) => Sentences.ConsiderRadiationOpinionIrradiated(Listed),
        RiskPromptCode.ConsiderRadiationOpinion => Sentences.ConsiderRadiationOpinion(Listed),
        RiskPromptCode.AvoidRadiation => Sentences.AvoidRadiation(Listed),
        RiskPromptCode.ConsiderNodalImaging => Sentences.ConsiderNodalImaging,
        _ => Sentences.CurettageUnsuitable,
    };

    private string Listed => string.Join(", ", Facts.Where(fact => fact != RiskPromptFact.PriorRadiation).Select(Words));

    /// <summary>The prompts that what is known of a case gives (common practice, no source).</summary>
    /// <param name="facts">The facts, with what the slides show.</param>
    /// <param name="brighamWomens">The T category of Brigham and Women's by them.</param>
    /// <param name="isBeforeStage1">True before any layer: whether curettage would do is no question later.</param>
    public static IReadOnlyList<RiskPrompt> For(CaseFacts facts, TCategory brighamWomens, bool isBeforeStage1)
    {
        var tumour = facts.Tumour;
        var opinion = TumourRules.OnlyWhere(
            (RiskPromptFact.PerineuralInvasion, tumour.Perineural is { Present: true }),
            (RiskPromptFact.PositiveNodes, tumour.PositiveNodes == true),
            (RiskPromptFact.Unresectable, tumour.Unresectable == true)).ToList();
        var irradiated = TumourRules.OnlyWhere((RiskPromptFact.PriorRadiation, facts.PriorRadiation == true));
        var avoid = TumourRules.OnlyWhere(
            (RiskPromptFact.VerrucousCarcinoma, tumour.Morphology == TumourTypes.Verrucous), (RiskPromptFact.BasalCellNaevusSyndrome, tumour.NevoidBasalCellSyndrome == true)).ToList();
        return
        [
            .. TumourRules.OnlyWhere(
                (new RiskPrompt(RiskPromptCode.ConsiderRadiationOpinion, [.. opinion, .. irradiated]), opinion.Count > 0),
                (new RiskPrompt(RiskPromptCode.AvoidRadiation, avoid), avoid.Count > 0),
                (new RiskPrompt(RiskPromptCode.CurettageUnsuitable, []), isBeforeStage1 && tumour.DeepestPlane >= AnatomicalPlane.SubcutaneousFat),
                (new RiskPrompt(RiskPromptCode.ConsiderNodalImaging, []), BrighamWomens.IsHigh(brighamWomens))),
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
