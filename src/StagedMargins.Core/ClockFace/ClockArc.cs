namespace StagedMargins.Core.ClockFace;

/// <summary>
/// A stretch of the clock face that runs clockwise from <see cref="From"/> (inclusive) to <see cref="To"/> (exclusive).
/// Where both are the same position it is the whole circle, so its length is 1 to 720 clock minutes and never 0.
/// </summary>
/// <param name="From">Where the arc begins, inclusive.</param>
/// <param name="To">Where it ends, exclusive.</param>
public readonly record struct ClockArc(ClockPosition From, ClockPosition To)
{
    /// <summary>The whole circle in its canonical form, 12:00 to 12:00.</summary>
    public static ClockArc Whole => default;

    /// <summary>Length in clock minutes, 1 to 720.</summary>
    public int Minutes => From == To ? ClockPosition.MinutesInCircle : From.MinutesTo(To);

    /// <summary>True for the whole circle, wherever it is said to begin.</summary>
    public bool IsWhole => From == To;

    /// <summary>The arc of a length that begins at a position.</summary>
    /// <param name="from">Where the arc begins.</param>
    /// <param name="minutes">Its length in clock minutes, 1 to 720.</param>
    /// <exception cref="InvalidEntryException">A length outside 1 to 720.</exception>
    public static ClockArc Starting(ClockPosition from, int minutes) => minutes is >= 1 and <= ClockPosition.MinutesInCircle
        ? new ClockArc(from, from.Plus(minutes))
        : throw new InvalidEntryException("arc", $"An arc is 1 to 720 clock minutes long, not {minutes}.");

    /// <summary>Reads both ends in their text form <c>HH:MM</c>.</summary>
    /// <exception cref="InvalidEntryException">One of them is not a clock position.</exception>
    public static ClockArc Parse(string? from, string? to) => new(ClockPosition.Parse(from), ClockPosition.Parse(to));

    /// <summary>True where a position lies on the arc.</summary>
    public bool Contains(ClockPosition position) => IsWhole || From.MinutesTo(position) < Minutes;

    /// <summary>The text form, for example <c>07:30–09:00</c>.</summary>
    public override string ToString() => $"{From}–{To}";
}
