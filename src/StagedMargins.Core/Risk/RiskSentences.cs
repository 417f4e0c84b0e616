using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Risk;

/// <summary>An assessment in words, the same wherever it is read.</summary>
public static class RiskSentences
{
    /// <summary>Area class and T categories, a sentence each, with the factors behind a category and what is missing, and where slides and intake differ. Prompts have words of their own.</summary>
    public static IReadOnlyList<string> Of(RiskAssessment risk) =>
    [
        risk.AreaClass is { } area ? Sentences.AreaClassIs(Terms.Of(area)) : Sentences.AreaClassOpen,
        .. risk.Ajcc8.Applies || risk.BrighamWomens.Applies
            ? [Sentences.Ajcc8(Of(risk.Ajcc8)), Sentences.BrighamWomens(Of(risk.BrighamWomens))]
            : (string[])[Sentences.NoTCategory],
        .. risk.Conflicts().Select(conflict => conflict.InWords()),
    ];

    /// <summary>A T category, for example <c>T3: minor erosion of bone. Not entered, may raise it: perineural invasion</c>.</summary>
    public static string Of(TCategory category)
    {
        if (!category.Applies)
        {
            return Sentences.TDoesNotApply;
        }

        var words = category switch
        {
            { T: not { } } => Sentences.TOpen,
            { T: { } t } when category.IsAtLeast() && t != Ajcc8.NotAssessed => Sentences.TAtLeast(t),
            { T: { } t } => t,
        };
        words = category.Factors.Count == 0 ? words : Sentences.TBecause(words, Listed(category.Factors));
        return category.Missing.Count == 0 ? words : Sentences.TMayBeHigher(words, Listed(category.Missing));
    }

    private static string Listed<T>(IEnumerable<T> items)
        where T : struct, Enum => string.Join(", ", items.Select(Terms.Of));
}
