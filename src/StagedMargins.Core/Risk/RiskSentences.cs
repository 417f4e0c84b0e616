namespace StagedMargins.Core.Risk;

/// <summary>An assessment in words, the same wherever it is read.</summary>
public static class RiskSentences
{
    /// <summary>Area class and T categories, a sentence each, with the factors behind a category and what is missing. Prompts have words of their own.</summary>
    public static IReadOnlyList<string> Of(RiskAssessment risk) =>
    [
        risk.AreaClass is { } area ? $"Area class {area}." : "Area class: not said, and the site does not tell.",
        .. risk.Ajcc8.Applies || risk.BrighamWomens.Applies
            ? [$"AJCC 8, head and neck: {Of(risk.Ajcc8)}.", $"Brigham and Women's: {Of(risk.BrighamWomens)}."]
            : (string[])["No T category: both systems are for squamous tumours."],
    ];

    /// <summary>A T category, for example <c>T3: deep invasion. Not entered, may raise it: perineural</c>.</summary>
    public static string Of(TCategory category)
    {
        if (!category.Applies)
        {
            return "does not apply";
        }

        var factors = category.Factors.Count == 0 ? "" : $": {Listed(category.Factors.Select(EnumNames<TFactor>.Spaced))}";
        var missing = category.Missing.Count == 0 ? "" : $". Not entered, may raise it: {Listed(category.Missing.Select(Of))}";
        return (category.T ?? "open, the size decides") + factors + missing;
    }

    // As the form asks for it.
    private static string Of(TMissing missing) => missing switch
    {
        TMissing.PreOperative => "size before surgery",
        TMissing.Perineural => "perineural invasion",
        TMissing.PerineuralCalibre => "calibre of the nerve",
        TMissing.DepthMm => "depth of invasion",
        _ => EnumNames<TMissing>.Spaced(missing),
    };

    private static string Listed(IEnumerable<string> items) => string.Join(", ", items);
}
