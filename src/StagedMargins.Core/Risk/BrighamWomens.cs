using StagedMargins.Core.Intake;

namespace StagedMargins.Core.Risk;

/// <summary>
/// The T category of Brigham and Women's Hospital for cutaneous squamous cell carcinoma: Jambusaria-Pahlajani and others, JAMA
/// Dermatol 2013;149:402–410. Four factors: diameter of 2 cm or more, poor differentiation, perineural invasion of a nerve of 0.1 mm
/// or more, invasion beyond subcutaneous fat. None T1, one T2a, two or three T2b, four or bone T3. In situ is T0 (from memory).
/// Squamous tumours are those of ICD-O-3 morphology 805 to 808; adenosquamous carcinoma (8560) is not among them.
/// </summary>
public static class BrighamWomens
{
    private const int TwoCentimetres = 20_000;

    /// <summary>The category of a tumour; open where its size is not known and decides.</summary>
    public static TCategory Classify(CaseFacts facts)
    {
        var tumour = facts.Tumour;
        if (!tumour.IsSquamous() || !tumour.IsInvasive())
        {
            return tumour.IsSquamous() && tumour.IsInSitu() ? new TCategory("T0", [], true, []) : TCategory.NotApplicable;
        }

        var factors = Factors(facts).ToList();
        if (tumour.IsInBone())
        {
            return new TCategory("T3", [.. factors, TFactor.BoneInvasion], true, []);
        }

        var least = Category(factors.Count);
        var withSize = facts.PreOperative is null ? Category(factors.Count + 1) : least;
        return new TCategory(least == withSize ? least : null, factors, true, [.. Missing(facts, factors.Count)]);
    }

    /// <summary>True for T2b and T3, the categories in which most nodal metastases lie (Karia and others, J Clin Oncol 2014;32:327–334).</summary>
    public static bool IsHigh(TCategory category) => category.T is "T2b" or "T3";

    private static string Category(int factors) => factors switch
    {
        0 => "T1",
        1 => "T2a",
        2 or 3 => "T2b",
        _ => "T3",
    };

    private static IEnumerable<TFactor> Factors(CaseFacts facts) => TumourRules.OnlyWhere(
        (TFactor.TwoCentimetres, facts.PreOperative?.Largest().Micrometres >= TwoCentimetres),
        (TFactor.PoorDifferentiation, facts.Tumour.Differentiation == Differentiation.Poor),
        (TFactor.PerineuralInvasion, facts.Tumour.HasNerveOfCalibre()),
        (TFactor.BeyondSubcutaneousFat, facts.Tumour.IsBeyondFat()));

    // Each may be one more factor: they are named where all of them together would raise the category. Bone raises any below T3.
    private static IEnumerable<TFact> Missing(CaseFacts facts, int factors)
    {
        List<TFact> open =
        [
            .. TumourRules.OnlyWhere(
                (TFact.PreOperative, facts.PreOperative is null),
                (TFact.Differentiation, facts.Tumour.Differentiation is null),
                (TFact.DeepestPlane, facts.Tumour.DeepestPlane is null)),
            .. facts.Tumour.MissingOfNerve(),
        ];
        var isBoneOpen = facts.Tumour.IsBoneOpen();
        return
        [
            .. Category(factors + open.Count) != Category(factors) ? open : open.Where(fact => fact == TFact.DeepestPlane && isBoneOpen),
            .. TumourRules.OnlyWhere((TFact.Bone, isBoneOpen && Category(factors) != Category(4))),
        ];
    }
}
