using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Risk;

/// <summary>
/// The T category of Brigham and Women's Hospital for cutaneous squamous cell carcinoma: Jambusaria-Pahlajani and others, JAMA
/// Dermatol 2013;149:402–410. Four factors: diameter of 2 cm or more, poor differentiation, perineural invasion of a nerve of 0.1 mm
/// or more, invasion beyond subcutaneous fat. None T1, one T2a, two or three T2b, four or bone T3. In situ is T0 (from memory).
/// </summary>
public static class BrighamWomens
{
    private const int TwoCentimetres = 20_000;

    /// <summary>The category of a tumour; open where its size is not known and decides.</summary>
    public static TCategory Classify(CaseFacts facts)
    {
        var tumour = facts.Tumour;
        if (!tumour.IsInvasiveSquamous())
        {
            return tumour.IsInSitu() ? new TCategory("T0", [], true, []) : TCategory.NotApplicable;
        }

        var factors = Factors(facts).ToList();
        if ((tumour.Bone ?? BoneInvolvement.None) != BoneInvolvement.None || tumour.DeepestPlane == AnatomicalPlane.Bone)
        {
            return new TCategory("T3", [.. factors, TFactor.BoneInvasion], true, []);
        }

        var least = Category(factors.Count);
        var most = facts.PreOperative is null ? Category(factors.Count + 1) : least;
        return new TCategory(least == most ? least : null, factors, true, [.. Missing(facts)]);
    }

    private static string Category(int factors) => factors switch
    {
        0 => "T1",
        1 => "T2a",
        2 or 3 => "T2b",
        _ => "T3",
    };

    private static IEnumerable<TFactor> Factors(CaseFacts facts) => SquamousRules.OnlyWhere(
        (TFactor.TwoCentimetres, facts.PreOperative?.Largest().Micrometres >= TwoCentimetres),
        (TFactor.PoorDifferentiation, facts.Tumour.Differentiation == Differentiation.Poor),
        (TFactor.PerineuralInvasion, facts.Tumour.HasNerveOfCalibre()),
        (TFactor.BeyondSubcutaneousFat, facts.Tumour.IsBeyondFat()));

    private static IEnumerable<TMissing> Missing(CaseFacts facts) =>
    [
        .. SquamousRules.OnlyWhere(
            (TMissing.PreOperative, facts.PreOperative is null),
            (TMissing.Differentiation, facts.Tumour.Differentiation is null),
            (TMissing.DeepestPlane, facts.Tumour.DeepestPlane is null)),
        .. facts.Tumour.MissingOfNerve(),
    ];
}
