using StagedMargins.Core.Intake;

namespace StagedMargins.Core.Risk;

/// <summary>
/// T category of cutaneous squamous cell carcinoma of the head and neck, AJCC Cancer Staging Manual, 8th edition (2017), chapter 15;
/// read at second hand. Eyelid is left out there. T1 below 2 cm, T2 from 2 cm, T3 from 4 cm or with minor bone erosion, perineural
/// invasion (calibre of 0.1 mm or more, or a named nerve) or deep invasion (beyond subcutaneous fat or more than 6 mm), T4a gross
/// invasion of bone, T4b skull base. Which side exactly 2 and 4 cm belong to is a setting.
/// </summary>
public static class Ajcc8
{
    private const int DeepMicrometres = 6_000;
    private const int TwoCentimetres = 20_000;
    private const int FourCentimetres = 40_000;

    /// <summary>The category of a tumour.</summary>
    /// <remarks>What is not known does not raise it: of two categories in doubt the manual takes the lower (from memory).</remarks>
    public static TCategory Classify(CaseFacts facts, SizeBoundary boundary)
    {
        var tumour = facts.Tumour;
        if (Sites.Find(facts.Site.Code) is not { IsHeadAndNeck: true })
        {
            return TCategory.NotApplicable;
        }

        if (!tumour.IsInvasiveSquamous())
        {
            return tumour.IsInSitu() ? new TCategory("Tis", [], true, []) : TCategory.NotApplicable;
        }

        var (t, factors) = Category(facts, boundary);
        return new TCategory(t, [.. factors], true, t[1] == '4' ? [] : [.. Missing(facts)]);
    }

    private static (string T, IEnumerable<TFactor> Factors) Category(CaseFacts facts, SizeBoundary boundary)
    {
        var raising = Raising(facts, boundary).ToList();
        return facts switch
        {
            { Tumour.Bone: BoneInvolvement.SkullBase } => ("T4b", [TFactor.SkullBaseInvasion]),
            { Tumour.Bone: BoneInvolvement.GrossInvasion } => ("T4a", [TFactor.GrossBoneInvasion]),
            _ when raising.Count > 0 => ("T3", raising),
            { PreOperative: null } => ("TX", []),
            _ when Reaches(facts, TwoCentimetres, boundary) => ("T2", [TFactor.TwoCentimetres]),
            _ => ("T1", []),
        };
    }

    private static IEnumerable<TFactor> Raising(CaseFacts facts, SizeBoundary boundary) => SquamousRules.OnlyWhere(
        (TFactor.FourCentimetres, Reaches(facts, FourCentimetres, boundary)),
        (TFactor.DeepInvasion, facts.Tumour.IsBeyondFat() || facts.Tumour.Depth?.Micrometres > DeepMicrometres),
        (TFactor.PerineuralInvasion, facts.Tumour.HasNerveOfCalibre() || facts.Tumour.Perineural is { Present: true, Named: true }),
        (TFactor.MinorBoneErosion, facts.Tumour.Bone == BoneInvolvement.MinorErosion));

    private static bool Reaches(CaseFacts facts, int micrometres, SizeBoundary boundary) =>
        facts.PreOperative?.Largest().Micrometres is { } largest
        && (largest > micrometres || (largest == micrometres && boundary == SizeBoundary.BelongsAbove));

    private static IEnumerable<TMissing> Missing(CaseFacts facts) =>
    [
        .. SquamousRules.OnlyWhere(
            (TMissing.PreOperative, facts.PreOperative is null),
            (TMissing.DepthMm, facts.Tumour.Depth is null && !facts.Tumour.IsBeyondFat()),
            (TMissing.DeepestPlane, facts.Tumour.DeepestPlane is null && !(facts.Tumour.Depth?.Micrometres > DeepMicrometres))),
        .. facts.Tumour.Perineural is { Present: true, Named: true } ? [] : facts.Tumour.MissingOfNerve(),
    ];
}
