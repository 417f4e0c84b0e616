using StagedMargins.Core;
using StagedMargins.Core.Care;
using StagedMargins.Core.Mapping;
using StagedMargins.Web.Problems;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Contract;

/// <summary>A dose as it is taken.</summary>
/// <param name="Agent">The agent. Required.</param>
/// <param name="Percent">Its strength, per cent; 1 % is 10 mg/mL. Required.</param>
/// <param name="VolumeMl">Its volume, mL. Required.</param>
/// <param name="Adrenaline">True with adrenaline. Required, for the maximum depends on it.</param>
/// <param name="GivenAt">When; now where absent.</param>
public sealed record DoseBody(LocalAnaesthetic? Agent, decimal? Percent, decimal? VolumeMl, bool? Adrenaline, DateTimeOffset? GivenAt)
{
    /// <summary>The dose that was taken.</summary>
    /// <exception cref="InvalidRequestException">A field is missing or at fault.</exception>
    public DoseEntry ToEntry(ClinicalTime now)
    {
        var errors = new FieldErrors();
        var givenAt = errors.Collect(null, () => GivenAt is { } at ? ClinicalTime.From(at, "givenAt") : now);
        if (Agent is null)
        {
            errors.Add("agent", $"Required, one of: {string.Join(", ", EnumNames<LocalAnaesthetic>.All)}.");
        }

        foreach (var (field, missing) in new[] { ("percent", Percent is null), ("volumeMl", VolumeMl is null), ("adrenaline", Adrenaline is null) })
        {
            if (missing)
            {
                errors.Add(field, "Required.");
            }
        }

        errors.ThrowIfAny();
        return new DoseEntry(Agent!.Value, Percent!.Value, VolumeMl!.Value, Adrenaline!.Value, givenAt);
    }
}

/// <summary>The word that a dose was entered wrongly, as it is taken.</summary>
/// <param name="Reason">Why. Required.</param>
public sealed record VoidBody(string? Reason);

/// <summary>That a dose was entered wrongly, as it is sent.</summary>
/// <param name="Reason">Why.</param>
/// <param name="By">Who said so.</param>
/// <param name="At">When.</param>
public sealed record DoseVoidView(string Reason, string? By, DateTimeOffset At);

/// <summary>A dose as it is sent.</summary>
/// <param name="Number">Its number in the case.</param>
/// <param name="Agent">The agent.</param>
/// <param name="Percent">Its strength, per cent.</param>
/// <param name="VolumeMl">Its volume, mL.</param>
/// <param name="Adrenaline">True with adrenaline.</param>
/// <param name="GivenAt">When it was given.</param>
/// <param name="Mg">What it held, mg.</param>
/// <param name="MaximumMg">The label maximum that it counts against, mg.</param>
/// <param name="Source">Where that maximum comes from.</param>
/// <param name="Void">That it was entered wrongly and does not count, where that was said.</param>
/// <param name="RecordedBy">Who entered it.</param>
/// <param name="RecordedAt">When it was entered.</param>
public sealed record DoseView(
    int Number,
    LocalAnaesthetic Agent,
    decimal Percent,
    decimal VolumeMl,
    bool Adrenaline,
    DateTimeOffset GivenAt,
    decimal Mg,
    decimal MaximumMg,
    string Source,
    DoseVoidView? Void,
    string? RecordedBy,
    DateTimeOffset RecordedAt)
{
    /// <summary>A dose as it is sent.</summary>
    public static DoseView Of(Dose dose, int? weightGrams, ClinicPeople people)
    {
        var maximum = LabelMaximum.For(dose.Agent, dose.Adrenaline);
        return new DoseView(
            dose.Number,
            dose.Agent,
            dose.Percent,
            dose.VolumeMl,
            dose.Adrenaline,
            dose.GivenAt.ToDateTimeOffset(),
            AnaestheticView.Plain(dose.Mg),
            AnaestheticView.Plain(maximum.For(weightGrams)),
            maximum.Source,
            dose.Void is { } said ? new DoseVoidView(said.Reason, people.EmailOf(said.ById), said.At.ToDateTimeOffset()) : null,
            people.EmailOf(dose.RecordedById),
            dose.RecordedAt.ToDateTimeOffset());
    }
}

/// <summary>The local anaesthetic of a case as it is sent.</summary>
/// <param name="TotalMg">All that was given over all stages, mg.</param>
/// <param name="MgPerKg">The same per kilogram; null where the weight is not known.</param>
/// <param name="MaximumMg">The label maximum of what was given, mg; null before any dose.</param>
/// <param name="ShareOfMaximum">The part of the maximum that was given, 1 being all of it; a mixture adds the share of each.</param>
/// <param name="Level">none, caution from 0.8, alert from 1.</param>
/// <param name="WeightKnown">True where the maximum follows the patient's weight.</param>
/// <param name="Message">The total in words.</param>
/// <param name="Doses">Every dose in the order they were entered, void ones too.</param>
public sealed record AnaestheticView(
    decimal TotalMg,
    decimal? MgPerKg,
    decimal? MaximumMg,
    decimal ShareOfMaximum,
    AnaestheticLevel Level,
    bool WeightKnown,
    string Message,
    DoseView[] Doses)
{
    /// <summary>The local anaesthetic of a case.</summary>
    public static AnaestheticView Of(SurgicalCase surgicalCase, ClinicPeople people)
    {
        var total = surgicalCase.Anaesthetic;
        return new AnaestheticView(
            Plain(total.TotalMg),
            total.MgPerKg is { } perKg ? Plain(Math.Round(perKg, 6)) : null,
            total.MaximumMg is { } maximum ? Plain(maximum) : null,
            Plain(total.ShareOfMaximum),
            total.Level,
            total.WeightKnown,
            total.Sentence(),
            [.. surgicalCase.Doses.Select(dose => DoseView.Of(dose, surgicalCase.Facts.WeightGrams, people))]);
    }

    // Without the zeros that a product of decimals carries at its end.
    internal static decimal Plain(decimal value) => value / 1.0000000000000000000000000000m;
}
