using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Care;

/// <summary>How near the doses of a case come to the label maximum.</summary>
public enum AnaestheticLevel
{
    /// <summary>Below 80 %.</summary>
    None,

    /// <summary>From 80 % of the maximum.</summary>
    Caution,

    /// <summary>From 100 % of the maximum.</summary>
    Alert,
}

/// <summary>
/// The doses of a case added up over all its stages, as if nothing of them had worn off. Each agent, with or without adrenaline,
/// counts against its own maximum, and the shares add up.
/// </summary>
/// <param name="TotalMg">All that was given, mg.</param>
/// <param name="MgPerKg">The same per kilogram of body weight; null where the weight is not known.</param>
/// <param name="MaximumMg">The most of what was given, in the proportions it was given, mg; null before any dose.</param>
/// <param name="ShareOfMaximum">The part of the maximum that was given, 1 being all of it.</param>
/// <param name="WeightKnown">True where the maximum follows the patient's weight.</param>
public sealed record AnaestheticTotal(decimal TotalMg, decimal? MgPerKg, decimal? MaximumMg, decimal ShareOfMaximum, bool WeightKnown)
{
    /// <summary>The share of the maximum from which there is a caution.</summary>
    public const decimal CautionFrom = 0.8m;

    /// <summary>The share of the maximum from which there is an alert.</summary>
    public const decimal AlertFrom = 1m;

    // Below what any syringe shows, and enough that three thirds are a whole.
    private const int ShareDecimals = 12;

    /// <summary>How near that comes to the maximum.</summary>
    public AnaestheticLevel Level => ShareOfMaximum switch
    {
        >= AlertFrom => AnaestheticLevel.Alert,
        >= CautionFrom => AnaestheticLevel.Caution,
        _ => AnaestheticLevel.None,
    };

    /// <summary>Adds up doses.</summary>
    /// <param name="doses">The doses; void ones do not count.</param>
    /// <param name="weightGrams">Body weight in grams, or null where it is not known.</param>
    public static AnaestheticTotal Of(IEnumerable<Dose> doses, int? weightGrams)
    {
        var byMaximum = doses.Where(dose => dose.Void is null)
            .GroupBy(dose => LabelMaximum.For(dose.Agent, dose.Adrenaline), dose => dose.Mg)
            .Select(group => (Mg: group.Sum(), Maximum: group.Key.For(weightGrams)))
            .ToList();
        var total = byMaximum.Sum(part => part.Mg);
        var share = Math.Round(byMaximum.Sum(part => part.Mg / part.Maximum), ShareDecimals);
        decimal? maximum = byMaximum switch
        {
            [] => null,
            [var only] => only.Maximum,
            _ => Math.Round(total / byMaximum.Sum(part => part.Mg / part.Maximum), 3),
        };
        return new AnaestheticTotal(total, total * 1000 / weightGrams, maximum, share, weightGrams is not null);
    }

    /// <summary>The total in words.</summary>
    public string Sentence()
    {
        var total = FormattableString.Invariant($"{TotalMg:0.#} mg") + (MgPerKg is { } known ? FormattableString.Invariant($" ({known:0.##} mg/kg)") : "");
        if (MaximumMg is { } maximum)
        {
            total = Sentences.OfLabelMaximum(total, FormattableString.Invariant($"{ShareOfMaximum * 100:0.#}"), FormattableString.Invariant($"{maximum:0.#}"));
            total = WeightKnown ? total : Sentences.WeightUnknown(total);
        }

        return Level switch
        {
            AnaestheticLevel.Alert => Sentences.LabelMaximumReached(total),
            AnaestheticLevel.Caution => Sentences.NearLabelMaximum(total),
            _ => Sentences.AnaestheticTotal(total),
        };
    }
}
