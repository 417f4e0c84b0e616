using System.Globalization;
using StagedMargins.Core.Intake;
using StagedMargins.Core.Risk;
using StagedMargins.Core.Wording;

namespace StagedMargins.Drawing.Documents;

/// <summary>A fact in words.</summary>
/// <param name="Name">What it is.</param>
/// <param name="Value">As it was entered, or that it was not.</param>
public sealed record Fact(string Name, string Value);

/// <summary>The facts of a case in words, in one order, so that two states of them can be compared.</summary>
public static class FactRows
{
    /// <summary>Every fact; one that nobody entered says so, for it is not a "no".</summary>
    public static IReadOnlyList<Fact> Of(CaseFacts facts) => [.. Each(facts).Concat(OfTumour(facts.Tumour)).Select(fact => new Fact(fact.Name, fact.Value ?? Terms.NotEntered))];

    private static IEnumerable<(string Name, string? Value)> Each(CaseFacts facts) =>
    [
        ("Site", facts.Site.InWords()),
        ("Area class", facts.AreaClass is { } area ? Terms.Of(area) + (facts.AreaClassReason is { } reason ? $". Reason: {reason}" : "") : null),
        (Terms.Of(TFact.PreOperative).Capitalised(), facts.PreOperative is { } size ? $"{size.Length} × {size.Width}, long axis at {size.Axis.InSentence()}" : null),
        ("Weight", facts.WeightGrams is { } grams ? string.Create(CultureInfo.InvariantCulture, $"{grams / 1000m:0.###} kg") : null),
        ("Immunosuppressed", YesNo(facts.Immunosuppressed)),
        ("Prior radiation of the site", YesNo(facts.PriorRadiation)),
        ("Indications", facts.Indications.Count == 0 ? null : string.Join("; ", facts.Indications)),
    ];

    private static IEnumerable<(string Name, string? Value)> OfTumour(Tumour tumour) =>
    [
        ("Tumour (ICD-O-3)", tumour.InWords()),
        ("Recurrent", YesNo(tumour.Recurrent)),
        ("Differentiation", Word(tumour.Differentiation)),
        ("Border", Word(tumour.Border)),
        ("Depth of invasion", tumour.Depth?.ToString()),
        ("Deepest plane", tumour.DeepestPlane is { } plane ? Terms.Of(plane) : null),
        ("Perineural invasion", tumour.Perineural is { } nerve
            ? string.Join(", ", ((string?[])[YesNo(nerve.Present), nerve.CalibreMm is { } calibre ? $"nerve of {calibre}" : null, Nerve(nerve.Named, "named", "unnamed"), DepthOf(nerve)]).OfType<string>())
            : null),
        ("Bone", Word(tumour.Bone)),
        (Terms.PositiveNodes.Capitalised(), YesNo(tumour.PositiveNodes)),
        ("Unresectable", YesNo(tumour.Unresectable)),
        (Terms.BasalCellNaevusSyndrome.Capitalised(), YesNo(tumour.NevoidBasalCellSyndrome)),
    ];

    private static string? Nerve(bool? value, string ifSo, string ifNot) => value switch { true => $"{ifSo} nerve", false => $"{ifNot} nerve", null => null };

    private static string? DepthOf(Perineural nerve) => nerve.DeeperThanDermis switch { true => "deeper than the dermis", false => "not deeper than the dermis", null => null };

    private static string? YesNo(bool? value) => value switch { true => Terms.Yes, false => Terms.No, null => null };

    private static string? Word<T>(T? value)
        where T : struct, Enum => value is { } known ? Terms.Of(known) : null;
}
