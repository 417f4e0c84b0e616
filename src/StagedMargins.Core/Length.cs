using System.Globalization;

namespace StagedMargins.Core;

/// <summary>
/// A length of tissue: a whole number of micrometres above 0 and up to 300 mm, so that it is stored and compared exactly.
/// </summary>
public sealed record Length : IComparable<Length>
{
    /// <summary>The longest length a record takes, in micrometres (300 mm).</summary>
    public const int LongestMicrometres = 300_000;

    /// <summary>Makes a length from micrometres.</summary>
    /// <param name="micrometres">1 to 300,000.</param>
    /// <exception cref="InvalidEntryException">Outside that range.</exception>
    public Length(int micrometres)
    {
        if (micrometres is < 1 or > LongestMicrometres)
        {
            throw OutOfRange();
        }

        Micrometres = micrometres;
    }

    /// <summary>The length in whole micrometres.</summary>
    public int Micrometres { get; }

    /// <summary>The length in millimetres.</summary>
    public double Millimetres => Micrometres / 1000.0;

    /// <summary>Makes a length from millimetres, to the nearest micrometre.</summary>
    /// <param name="millimetres">Above 0 and up to 300.</param>
    /// <exception cref="InvalidEntryException">Outside that range, or below half a micrometre.</exception>
    public static Length FromMillimetres(decimal millimetres) => millimetres is > 0 and <= LongestMicrometres / 1000m
        ? new Length((int)decimal.Round(millimetres * 1000m, MidpointRounding.AwayFromZero))
        : throw OutOfRange();

    /// <inheritdoc/>
    public int CompareTo(Length? other) => Micrometres.CompareTo(other?.Micrometres ?? 0);

    /// <summary>The length in words, for example <c>2.5 mm</c>.</summary>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{Millimetres:0.###} mm");

    /// <summary>Shorter than.</summary>
    public static bool operator <(Length left, Length right) => left.CompareTo(right) < 0;

    /// <summary>Longer than.</summary>
    public static bool operator >(Length left, Length right) => left.CompareTo(right) > 0;

    /// <summary>Not longer than.</summary>
    public static bool operator <=(Length left, Length right) => left.CompareTo(right) <= 0;

    /// <summary>Not shorter than.</summary>
    public static bool operator >=(Length left, Length right) => left.CompareTo(right) >= 0;

    private static InvalidEntryException OutOfRange() => new("length", "A length must be more than 0 mm and at most 300 mm.");
}
