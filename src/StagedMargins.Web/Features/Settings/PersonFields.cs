using StagedMargins.Core;
using StagedMargins.Storage.People;

namespace StagedMargins.Web.Features.Settings;

/// <summary>The fields of a person as they are entered.</summary>
public static class PersonFields
{
    /// <summary>The longest name of a person or clinic, characters.</summary>
    public const int LongestName = 100;

    /// <summary>An address with which someone signs in.</summary>
    /// <exception cref="InvalidEntryException">Not one.</exception>
    public static string Email(string? email)
    {
        var text = FreeText.Required("email", email, 200);
        return text.Count(c => c == '@') == 1 && !text.Any(char.IsWhiteSpace) && text[0] != '@' && text[^1] != '@'
            ? text
            : throw new InvalidEntryException("email", "An address such as name@clinic.example.");
    }

    /// <summary>Roles, at least one.</summary>
    /// <exception cref="InvalidEntryException">None, or a word that is no role.</exception>
    public static string[] OfRoles(string[]? roles) => roles is { Length: > 0 } && roles.All(Roles.All.Contains)
        ? [.. roles.Distinct()]
        : throw new InvalidEntryException("roles", $"One or more of: {string.Join(", ", Roles.All)}.");
}

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
