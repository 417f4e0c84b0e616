using StagedMargins.Core;

namespace StagedMargins.Web.Contract;

/// <summary>The fields of a clinic as they are entered.</summary>
public static class ClinicFields
{
    /// <summary>The longest name of a time zone, characters.</summary>
    public const int LongestZone = 64;

    /// <summary>A time zone; null stays null.</summary>
    /// <exception cref="InvalidEntryException">Not one.</exception>
    public static string? Zone(string? zone) => zone is null || (zone.Length <= LongestZone && TimeZoneInfo.TryFindSystemTimeZoneById(zone, out _))
        ? zone
        : throw new InvalidEntryException("timeZone", "An IANA time zone such as America/Halifax.");
}
