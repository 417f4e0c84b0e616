namespace StagedMargins.Core.Risk;

/// <summary>An assessment in words, the same wherever it is read.</summary>
public static class RiskSentences
{
    /// <summary>Area class and T categories, a sentence each, with the factors behind a category and what is missing. Prompts have words of their own.</summary>
    public static IReadOnlyList<string> Of(RiskAssessment risk) =>
    [
        risk.AreaClass is { } area ? $"Area class {area}." : "Area class: not said, and the site does not tell.",
        .. risk.Ajcc8.Applies || risk.BrighamWomens.Applies
            ? [Of("AJCC 8, head and neck", risk.Ajcc8), Of("Brigham and Women's", risk.BrighamWomens)]
            : (string[])["No T category: both systems are for squamous tumours."],
    ];

    /// <summary>A T category in a sentence.</summary>
    /// <param name="system">The name of its system.</param>
    /// <param name="category">The category.</param>
    public static string Of(string system, TCategory category)
    {
        if (!category.Applies)
        {
            return $"{system}: does not apply to this tumour at this site.";
        }

        var factors = category.Factors.Count == 0 ? "" : $" ({Listed(category.Factors)})";
        var missing = category.Missing.Count == 0 ? "" : $" Not entered: {Listed(category.Missing)}; with it the category may be higher.";
        return $"{system}: {category.T ?? "open, the size decides"}{factors}.{missing}";
    }

    private static string Listed<T>(IEnumerable<T> items)
        where T : struct, Enum =>
        string.Join(", ", items.Select(Words<T>.Spaced));
}
