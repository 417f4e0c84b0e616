using StagedMargins.Core;
using StagedMargins.Storage.People;

namespace StagedMargins.Web.Contract;

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
            : throw new InvalidEntryException("email", "An e-mail address such as name@clinic.example.");
    }

    /// <summary>Roles, at least one.</summary>
    /// <exception cref="InvalidEntryException">None, or a word that is no role.</exception>
    public static string[] OfRoles(string[]? roles) => roles is { Length: > 0 } && roles.All(Roles.All.Contains)
        ? [.. roles.Distinct()]
        : throw new InvalidEntryException("roles", $"One or more of: {string.Join(", ", Roles.All)}.");
}
