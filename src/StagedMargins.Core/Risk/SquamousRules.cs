using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Risk;

/// <summary>What both T categories of squamous tumours ask of the facts.</summary>
internal static class SquamousRules
{
    private const int CalibreThresholdMicrometres = 100;

    // Behaviour of ICD-O-3: 2 in situ, 3 malignant at its primary site. A T category is of those alone.
    internal static bool IsInSitu(this Tumour tumour) => tumour.IsSquamous() && tumour.Morphology.EndsWith("/2", StringComparison.Ordinal);

    internal static bool IsInvasiveSquamous(this Tumour tumour) => tumour.IsSquamous() && tumour.Morphology.EndsWith("/3", StringComparison.Ordinal);

    internal static bool IsBeyondFat(this Tumour tumour) => tumour.DeepestPlane > AnatomicalPlane.SubcutaneousFat;

    internal static bool HasNerveOfCalibre(this Tumour tumour) =>
        tumour.Perineural is { Present: true, CalibreMm.Micrometres: >= CalibreThresholdMicrometres };

    internal static IEnumerable<TMissing> MissingOfNerve(this Tumour tumour)
    {
        if (tumour.Perineural is null)
        {
            yield return TMissing.Perineural;
        }
        else if (tumour.Perineural is { Present: true, CalibreMm: null })
        {
            yield return TMissing.PerineuralCalibre;
        }
    }

    internal static IEnumerable<T> OnlyWhere<T>(params IEnumerable<(T Item, bool Holds)> items) =>
        items.Where(item => item.Holds).Select(item => item.Item);
}
