namespace StagedMargins.Core.Care;

/// <summary>A local anaesthetic.</summary>
public enum LocalAnaesthetic
{
    /// <summary>Lidocaine.</summary>
    Lidocaine,

    /// <summary>Articaine.</summary>
    Articaine,

    /// <summary>Bupivacaine.</summary>
    Bupivacaine,

    /// <summary>Prilocaine.</summary>
    Prilocaine,

    /// <summary>Ropivacaine.</summary>
    Ropivacaine,
}

/// <summary>The most of an agent that its labelling gives an adult, with or without adrenaline.</summary>
/// <param name="Agent">The agent.</param>
/// <param name="Adrenaline">True with adrenaline.</param>
/// <param name="MgPerKg">The most per kilogram of body weight, mg/kg.</param>
/// <param name="MostMg">The most whatever the weight, mg.</param>
/// <param name="Source">Where the two figures come from.</param>
public sealed record LabelMaximum(LocalAnaesthetic Agent, bool Adrenaline, decimal MgPerKg, int MostMg, string Source)
{
    private const string UsLabel = "US product labelling, from memory";
    private const string UsLabelAndHandbooks = "mg: US product labelling; mg/kg: handbooks; both from memory";
    private const string EuropeanLabel = "European product information, from memory";

    /// <summary>Every maximum known here, one for each agent with and without adrenaline.</summary>
    public static IReadOnlyList<LabelMaximum> All { get; } =
    [
        new(LocalAnaesthetic.Lidocaine, true, 7m, 500, UsLabel),
        new(LocalAnaesthetic.Lidocaine, false, 4.5m, 300, UsLabel),
        new(LocalAnaesthetic.Articaine, true, 7m, 500, EuropeanLabel),
        new(LocalAnaesthetic.Articaine, false, 4m, 300, EuropeanLabel),
        new(LocalAnaesthetic.Bupivacaine, true, 3m, 225, UsLabelAndHandbooks),
        new(LocalAnaesthetic.Bupivacaine, false, 2.5m, 175, UsLabelAndHandbooks),
        // The labels give no higher figure with adrenaline for these two.
        new(LocalAnaesthetic.Prilocaine, true, 8m, 600, UsLabel),
        new(LocalAnaesthetic.Prilocaine, false, 8m, 600, UsLabel),
        new(LocalAnaesthetic.Ropivacaine, true, 3m, 200, UsLabelAndHandbooks),
        new(LocalAnaesthetic.Ropivacaine, false, 3m, 200, UsLabelAndHandbooks),
    ];

    /// <summary>The maximum that a dose counts against.</summary>
    public static LabelMaximum For(LocalAnaesthetic agent, bool adrenaline) =>
        All.Single(maximum => maximum.Agent == agent && maximum.Adrenaline == adrenaline);

    /// <summary>The maximum for a patient, mg: by weight where that is known, and never above <see cref="MostMg"/>.</summary>
    /// <param name="weightGrams">Body weight in grams, or null where it is not known.</param>
    public decimal For(int? weightGrams) => weightGrams is { } grams ? Math.Min(MgPerKg * grams / 1000m, MostMg) : MostMg;
}
