namespace StagedMargins.Core.Mapping;

/// <summary>How far the next layer reaches past the tumour on each side, a setting of the clinic. The default value is no overlap.</summary>
public readonly record struct Overlap
{
    /// <summary>Clock minutes on each side where a clinic has set nothing else.</summary>
    public const int UsualMinutes = 15;

    /// <summary>The fewest clock minutes.</summary>
    public const int Least = 0;

    /// <summary>The most clock minutes.</summary>
    public const int Most = 120;

    /// <summary>Makes an overlap.</summary>
    /// <param name="minutes">Clock minutes on each side, 0 to 120.</param>
    /// <exception cref="InvalidEntryException">Outside 0 to 120.</exception>
    public Overlap(int minutes)
    {
        if (minutes is < Least or > Most)
        {
            throw new InvalidEntryException("overlapMinutes", "The overlap must be 0 to 120 clock minutes on each side.");
        }

        Minutes = minutes;
    }

    /// <summary>Clock minutes on each side, 0 to 120.</summary>
    public int Minutes { get; }
}
