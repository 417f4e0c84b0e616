namespace StagedMargins.Core.Mapping;

/// <summary>The two margins of a layer.</summary>
public enum Margin
{
    /// <summary>The outer edge, skin surface to base.</summary>
    Peripheral,

    /// <summary>The floor.</summary>
    Deep,
}
