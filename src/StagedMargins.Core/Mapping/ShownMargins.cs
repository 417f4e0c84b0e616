namespace StagedMargins.Core.Mapping;

/// <summary>Which margins the sections of a block show; it covers, and takes findings of, these alone.</summary>
public enum ShownMargins
{
    /// <summary>The edge and the floor, as a rule.</summary>
    Both,

    /// <summary>The edge alone.</summary>
    Peripheral,

    /// <summary>The floor alone.</summary>
    Deep,
}

/// <summary>What it means to show a margin.</summary>
public static class ShownMarginsRules
{
    /// <summary>True where the margin is among those shown.</summary>
    public static bool Has(this ShownMargins shown, Margin margin) =>
        shown == ShownMargins.Both || shown == (margin == Margin.Peripheral ? ShownMargins.Peripheral : ShownMargins.Deep);
}
