using System.Security.Cryptography;
using System.Text;

namespace StagedMargins.Storage.People;

/// <summary>
/// A code that is handed over once and works once: 20 letters and digits at random (100 bits), in groups of five, without those
/// that are mistaken for one another. Only its SHA-256 is kept, which needs no salt at that strength.
/// </summary>
public static class OneTimeCode
{
    /// <summary>Characters of a hash.</summary>
    public const int HashLength = 64;

    private const string Characters = "abcdefghijkmnpqrstuvwxyz23456789";
    private const int Group = 5;
    private const int Groups = 4;

    /// <summary>A new code, as it is handed over.</summary>
    public static string New() => string.Join('-', Enumerable.Range(0, Groups).Select(_ => RandomNumberGenerator.GetString(Characters, Group)));

    /// <summary>The hash under which a code is kept, hexadecimal; upper case, blanks and dashes don't matter.</summary>
    /// <param name="code">The code as someone typed it.</param>
    public static string HashOf(string code) =>
        Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(string.Concat(code.Where(char.IsLetterOrDigit)).ToLowerInvariant())));
}
