using System.Security.Cryptography;
using System.Text;

namespace StagedMargins.Storage.People;

/// <summary>
/// A token with which another system of the clinic calls the API. It acts under its own number and name, so that histories show
/// what it did. Only the SHA-256 of its 256 random bits is kept.
/// </summary>
public sealed class ApiToken
{
    /// <summary>How every token begins.</summary>
    public const string Prefix = "smt_";

    /// <summary>The longest name, characters.</summary>
    public const int LongestName = 100;

    private const int Bytes = 32;

    /// <summary>The clinic.</summary>
    public Guid ClinicId { get; init; }

    /// <summary>Its number; what it does is written under it.</summary>
    public Guid Id { get; init; }

    /// <summary>What it is for, as the administrator named it.</summary>
    public string Name { get; init; } = "";

    /// <summary>What it may do: words of <see cref="Roles"/>, blanks between.</summary>
    public string RoleWords { get; init; } = "";

    /// <summary>The hash of the token, hexadecimal.</summary>
    public string Hash { get; init; } = "";

    /// <summary>When it was made.</summary>
    public DateTime MadeUtc { get; init; }

    /// <summary>By whom.</summary>
    public Guid MadeById { get; init; }

    /// <summary>Until when it works; null for no end.</summary>
    public DateTime? ExpiresUtc { get; init; }

    /// <summary>When it was revoked; null while it works.</summary>
    public DateTime? RevokedUtc { get; set; }

    /// <summary>When it was last used, to the minute; null where never.</summary>
    public DateTime? LastUsedUtc { get; set; }

    /// <summary>A new token, as it is shown once.</summary>
    public static string New() => Prefix + Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(Bytes));

    /// <summary>The hash under which a token is kept, hexadecimal.</summary>
    public static string HashOf(string token) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(token)));
}
