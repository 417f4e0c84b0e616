using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Risk;

/// <summary>
/// T category of AJCC Cancer Staging Manual, 8th edition (2017), chapter 15, cutaneous carcinoma of the head and neck; read at second hand.
/// Scope: carcinomas of the skin, and of the vermilion, but Merkel cell carcinoma; not of the eyelid (NCI Thesaurus C4524464; an AJNR review,
/// Table 8 note a). T1 below 2 cm, T2 from 2 cm (NCI Thesaurus C133258), T3 from 4 cm or with minor erosion of bone, perineural invasion or
/// deep invasion (beyond subcutaneous fat or more than 6 mm), T4a gross invasion of bone, T4b skull base (both texts). Perineural invasion
/// counts in a nerve of 0.1 mm or more, one deeper than the dermis, or a named one (AJNR review, note b). Which side exactly 2 and 4 cm belong to is a setting.
/// </summary>
public static class Ajcc8
{
    /// <summary>The category of a tumour whose size is not known and that nothing else raises.</summary>
    public const string NotAssessed = "TX";

    private const int DeepMicrometres = 6_000;
    private const int TwoCentimetres = 20_000;
    private const int FourCentimetres = 40_000;

    /// <summary>The category of a tumour.</summary>
    /// <remarks>What is not known does not raise it: of two categories in doubt the manual takes the lower (from memory).</remarks>
    public static TCategory Classify(CaseFacts facts, SizeBoundary boundary)
    {
        var tumour = facts.Tumour;
        if (Sites.Find(facts.Site.Code) is not { IsHeadAndNeck: true } || !tumour.IsCarcinomaButMerkels())
        {
            return TCategory.NotApplicable;
        }

        if (!tumour.IsInvasive())
        {
            return tumour.IsInSitu() ? new TCategory("Tis", [], true, []) : TCategory.NotApplicable;
        }

        var (t, factors) = Category(facts, boundary);
        return new TCategory(t, [.. factors], true, [.. Missing(facts, t)]);
    }

    private static (string T, IEnumerable<TFactor> Factors) Category(CaseFacts facts, SizeBoundary boundary)
    {
        var raising = Raising(facts, boundary).ToList();
        return facts switch
        {
            { Tumour.Bone: BoneInvolvement.SkullBase } => ("T4b", [TFactor.SkullBaseInvasion]),
            { Tumour.Bone: BoneInvolvement.GrossInvasion } => ("T4a", [TFactor.GrossBoneInvasion]),
            _ when raising.Count > 0 => ("T3", raising),
            { PreOperative: null } => (NotAssessed, []),
            _ when Reaches(facts, TwoCentimetres, boundary) => ("T2", [TFactor.TwoCentimetres]),
            _ => ("T1", []),
        };
    }

    // Bone at the deepest plane is an erosion at the least; whether it is gross, nobody has said.
    private static IEnumerable<TFactor> Raising(CaseFacts facts, SizeBoundary boundary) => TumourRules.OnlyWhere(
        (TFactor.FourCentimetres, Reaches(facts, FourCentimetres, boundary)),
        (TFactor.DeepInvasion, IsDeep(facts.Tumour)),
        (TFactor.PerineuralInvasion, IsNerveCounted(facts.Tumour)),
        (TFactor.MinorBoneErosion, facts.Tumour.IsInBone()));

    private static bool IsDeep(Tumour tumour) => tumour.IsBeyondFat() || tumour.Depth?.Micrometres > DeepMicrometres;

    private static bool IsNerveCounted(Tumour tumour) =>
        tumour.HasNerveOfCalibre() || tumour.Perineural is { Present: true } and ({ DeeperThanDermis: true } or { Named: true });

    private static bool Reaches(CaseFacts facts, int micrometres, SizeBoundary boundary) =>
        facts.PreOperative?.Largest().Micrometres is { } largest
        && (largest > micrometres || (largest == micrometres && boundary == SizeBoundary.BelongsAbove));

    // From T3 on bone alone raises it further, and from T4a on it was said how.
    private static IEnumerable<TFact> Missing(CaseFacts facts, string t)
    {
        var tumour = facts.Tumour;
        var bone = TumourRules.OnlyWhere((TFact.Bone, t[1] != '4' && tumour.IsBoneOpen()));
        return t[1] is '3' or '4'
            ? bone
            :
            [
                .. TumourRules.OnlyWhere(
                    (TFact.PreOperative, facts.PreOperative is null),
                    (TFact.DepthMm, tumour.Depth is null),
                    (TFact.DeepestPlane, tumour.DeepestPlane is null)),
                .. tumour.MissingOfNerve(),
                .. tumour.Perineural is { Present: true } nerve
                    ? TumourRules.OnlyWhere(
                        (TFact.PerineuralDepth, nerve.DeeperThanDermis is null && !(tumour.DeepestPlane <= AnatomicalPlane.Dermis)),
                        (TFact.PerineuralNamed, nerve.Named is null))
                    : [],
                .. bone,
            ];
    }
}
