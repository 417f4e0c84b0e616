using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Risk;

/// <summary>What both T categories ask of a tumour.</summary>
internal static class TumourRules
{
    private const int CalibreThresholdMicrometres = 100;

    // Carcinomas of ICD-O-3 (WHO), from memory: 8010 to 8576, those of the skin's appendages among them.
    private const int FirstCarcinoma = 8010;
    private const int LastCarcinoma = 8576;
    private const int Merkel = 8247;

    /// <summary>True for carcinoma of the skin that is not Merkel cell carcinoma: neither melanoma nor sarcoma.</summary>
    internal static bool IsCarcinomaButMerkels(this Tumour tumour) =>
        int.Parse(tumour.Morphology.AsSpan(0, 4), System.Globalization.CultureInfo.InvariantCulture) is >= FirstCarcinoma and <= LastCarcinoma and not Merkel;

    // Behaviour of ICD-O-3: 2 in situ, 3 malignant at its primary site. A T category is of those alone.
    internal static bool IsInSitu(this Tumour tumour) => tumour.Morphology.EndsWith("/2", StringComparison.Ordinal);

    internal static bool IsInvasive(this Tumour tumour) => tumour.Morphology.EndsWith("/3", StringComparison.Ordinal);

    internal static bool IsBeyondFat(this Tumour tumour) => tumour.DeepestPlane > AnatomicalPlane.SubcutaneousFat;

    /// <summary>True where bone is invaded, as it was said or as the deepest plane has it. Periosteum is not bone.</summary>
    internal static bool IsInBone(this Tumour tumour) =>
        (tumour.Bone ?? BoneInvolvement.None) != BoneInvolvement.None || tumour.DeepestPlane == AnatomicalPlane.Bone;

    /// <summary>True where nobody has said how far bone is involved, and what is known of the deepest plane does not rule it out, or shows that it is.</summary>
    internal static bool IsBoneOpen(this Tumour tumour) => tumour switch
    {
        { DeepestPlane: AnatomicalPlane.Bone } => tumour.Bone is null or BoneInvolvement.None,
        _ => tumour.Bone is null && tumour.DeepestPlane is null or AnatomicalPlane.Periosteum,
    };

    internal static bool HasNerveOfCalibre(this Tumour tumour) =>
        tumour.Perineural is { Present: true, CalibreMm.Micrometres: >= CalibreThresholdMicrometres };

    internal static IEnumerable<TFact> MissingOfNerve(this Tumour tumour) => tumour.Perineural switch
    {
        null => [TFact.Perineural],
        { Present: true, CalibreMm: null } => [TFact.PerineuralCalibre],
        _ => [],
    };

    internal static IEnumerable<T> OnlyWhere<T>(params IEnumerable<(T Item, bool Holds)> items) =>
        items.Where(item => item.Holds).Select(item => item.Item);
}
