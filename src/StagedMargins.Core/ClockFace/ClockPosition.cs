using System.Globalization;

namespace StagedMargins.Core.ClockFace;

/// <summary>
/// A place on the clock face of the map: a whole number of clock minutes, 0 to 719, clockwise from 12 o'clock as one faces
/// the skin. One clock minute is half a degree. The default value is 12 o'clock.
/// </summary>
public readonly record struct ClockPosition : IComparable<ClockPosition>
{
    /// <summary>Clock minutes in the whole circle.</summary>
    public const int MinutesInCircle = 720;

    /// <summary>Makes a position from clock minutes.</summary>
    /// <param name="minutes">Clock minutes after 12 o'clock, 0 to 719.</param>
    /// <exception cref="InvalidEntryException">Outside 0 to 719.</exception>
    public ClockPosition(int minutes)
    {
        if (minutes is < 0 or >= MinutesInCircle)
        {
            throw new InvalidEntryException("position", $"A clock position is 0 to 719 clock minutes, not {minutes}.");
        }

        Minutes = minutes;
    }

    /// <summary>How one is written, in a sentence for whoever wrote it otherwise.</summary>
    public const string Form = "A clock position must be HH:MM, 12:00 to 11:59.";

    /// <summary>12 o'clock.</summary>
    public static ClockPosition Twelve => default;

    /// <summary>Clock minutes after 12 o'clock, 0 to 719.</summary>
    public int Minutes { get; }

    /// <summary>The angle clockwise from 12 o'clock in radians, 0 inclusive to 2π exclusive.</summary>
    public double Radians => Minutes * Math.PI / 360;

    /// <summary>The position a number of minutes further clockwise; negative goes anticlockwise.</summary>
    public ClockPosition Plus(int minutes) =>
        new((Minutes + (minutes % MinutesInCircle) + MinutesInCircle) % MinutesInCircle);

    /// <summary>Minutes from here clockwise to <paramref name="other"/>, 0 to 719.</summary>
    public int MinutesTo(ClockPosition other) => (other.Minutes - Minutes + MinutesInCircle) % MinutesInCircle;

    /// <summary>Reads <c>HH:MM</c>; the twelve hour may be written 12 or 00.</summary>
    /// <returns>False where the text is not a clock position.</returns>
    public static bool TryParse(string? text, out ClockPosition position)
    {
        position = default;
        if (text is not { Length: 5 } || text[2] != ':'
            || !int.TryParse(text.AsSpan(0, 2), NumberStyles.None, CultureInfo.InvariantCulture, out var hours)
            || !int.TryParse(text.AsSpan(3, 2), NumberStyles.None, CultureInfo.InvariantCulture, out var minutes)
            || hours > 12 || minutes > 59)
        {
            return false;
        }

        position = new ClockPosition((hours % 12 * 60) + minutes);
        return true;
    }

    /// <inheritdoc cref="TryParse"/>
    /// <exception cref="InvalidEntryException">The text is not a clock position.</exception>
    public static ClockPosition Parse(string? text) => TryParse(text, out var position)
        ? position
        : throw new InvalidEntryException("position", Form);

    /// <inheritdoc/>
    public int CompareTo(ClockPosition other) => Minutes.CompareTo(other.Minutes);

    /// <summary>The text form, <c>12:00</c> to <c>11:59</c>.</summary>
    public override string ToString()
    {
        var hour = Minutes / 60;
        return string.Create(CultureInfo.InvariantCulture, $"{(hour == 0 ? 12 : hour):00}:{Minutes % 60:00}");
    }

    /// <summary>Earlier on the face than, counted from 12 o'clock.</summary>
    public static bool operator <(ClockPosition left, ClockPosition right) => left.Minutes < right.Minutes;

    /// <summary>Later on the face than, counted from 12 o'clock.</summary>
    public static bool operator >(ClockPosition left, ClockPosition right) => left.Minutes > right.Minutes;

    /// <summary>Not later on the face than, counted from 12 o'clock.</summary>
    public static bool operator <=(ClockPosition left, ClockPosition right) => left.Minutes <= right.Minutes;

    /// <summary>Not earlier on the face than, counted from 12 o'clock.</summary>
    public static bool operator >=(ClockPosition left, ClockPosition right) => left.Minutes >= right.Minutes;
}
