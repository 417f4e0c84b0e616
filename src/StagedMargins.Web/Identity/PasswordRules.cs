using System.Globalization;
using System.Text;
using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Storage;
using StagedMargins.Storage.People;

namespace StagedMargins.Web.Identity;

/// <summary>
/// The rules for passwords: long, and not what someone would guess first. No signs of a given kind are asked for and nothing
/// runs out, after NIST SP 800-63B section 5.1.1.2 (from memory), which asks for a comparison with common passwords, words of
/// the place, and repeated or running characters.
/// </summary>
/// <param name="db">The record, for the clinic's name.</param>
public sealed class PasswordRules(ClinicContext db) : IPasswordValidator<Person>
{
    /// <summary>The fewest characters.</summary>
    public const int Shortest = 12;

    /// <summary>The most characters.</summary>
    public const int Longest = 256;

    private const int FewestUnguessed = 8;
    private const int FewestDifferent = 5;
    private const int ShortestWord = 4;
    private const string Runs = "abcdefghijklmnopqrstuvwxyz 0123456789 qwertyuiop asdfghjkl zxcvbnm qwertzuiop azertyuiop";
    private const int ShortestRun = 4;

    private static readonly Lazy<string[]> Common = new(ReadCommon);

    /// <inheritdoc/>
    public async Task<IdentityResult> ValidateAsync(UserManager<Person> manager, Person user, string? password)
    {
        var clinic = await db.Clinics.Where(c => c.Id == user.ClinicId).Select(c => c.Name).SingleOrDefaultAsync();
        return WhyNot(password ?? "", [user.Email, user.DisplayName, clinic]) is { } why
            ? IdentityResult.Failed(new IdentityError { Code = "PasswordRefused", Description = why })
            : IdentityResult.Success;
    }

    /// <summary>Why a password won't do, or null where it will.</summary>
    /// <param name="password">The password.</param>
    /// <param name="about">What is known about the person: address, name, the clinic's name.</param>
    public static string? WhyNot(string password, IEnumerable<string?> about)
    {
        if (new StringInfo(password).LengthInTextElements < Shortest)
        {
            return $"At least {Shortest} characters; several unrelated words are easy to remember.";
        }

        if (password.Length > Longest)
        {
            return $"At most {Longest} characters.";
        }

        if (password.Any(char.IsControl))
        {
            return "Control characters are not allowed.";
        }

        var left = WithoutRepetition(Unguessed(password, about));
        return left.Length < FewestUnguessed || left.Distinct().Count() < FewestDifferent
            ? "Too easy to guess: common passwords, the e-mail address, names, runs such as 1234 and repetitions do not count. Add words that nobody would expect."
            : null;
    }

    // The letters and digits that belong to no run and to no word that is guessed first. Runs and words are looked for in the
    // whole password, each as if the other were not there: a run inside an address must not keep the address from being found.
    private static string Unguessed(string password, IEnumerable<string?> about)
    {
        var typed = password.Normalize(NormalizationForm.FormKC).ToLowerInvariant();
        var plain = Plain(typed);
        var guessed = new bool[typed.Length];
        for (var at = 0; at < typed.Length; at++)
        {
            if (RunAt(typed, at) is var run and >= ShortestRun)
            {
                guessed.AsSpan(at, run).Fill(true);
            }
        }

        foreach (var word in Common.Value.Concat(about.SelectMany(Words)).Where(word => word.Length >= ShortestWord).Distinct())
        {
            for (var at = plain.IndexOf(word, StringComparison.Ordinal); at >= 0; at = plain.IndexOf(word, at + 1, StringComparison.Ordinal))
            {
                guessed.AsSpan(at, word.Length).Fill(true);
            }
        }

        return string.Concat(plain.Where((c, at) => !guessed[at] && char.IsLetterOrDigit(c)));
    }

    // How long the characters from here run on as they stand on a keyboard or in a row, forwards or backwards, or stay the same.
    private static int RunAt(string text, int from)
    {
        var longest = 1;
        for (var length = 2; from + length <= text.Length; length++)
        {
            var part = text.Substring(from, length);
            if (part.Contains(' ', StringComparison.Ordinal) || !(part.All(c => c == part[0]) || Stands(part) || Stands(new string([.. part.Reverse()]))))
            {
                break;
            }

            longest = length;
        }

        return longest;

        static bool Stands(string part) => Runs.Contains(part, StringComparison.Ordinal);
    }

    private static string WithoutRepetition(string text)
    {
        for (var length = 1; length <= text.Length / 2; length++)
        {
            if (text.Length % length == 0 && text == string.Concat(Enumerable.Repeat(text[..length], text.Length / length)))
            {
                return text[..length];
            }
        }

        return text;
    }

    private static IEnumerable<string> Words(string? about)
    {
        var plain = Plain((about ?? "").Split('@')[0]);
        return plain.Split([' ', '.', '-', '_', '+', '(', ')', ','], StringSplitOptions.RemoveEmptyEntries)
            .Append(string.Concat(plain.Where(char.IsLetterOrDigit)))
            .Append(plain);
    }

    // Lower case, and letters for the signs that are usually put in their place.
    private static string Plain(string text) => string.Concat(text.Normalize(NormalizationForm.FormKC).ToLowerInvariant().Select(c => c switch
    {
        '@' or '4' => 'a',
        '3' => 'e',
        '0' => 'o',
        '$' or '5' => 's',
        '!' or '1' => 'i',
        '7' => 't',
        _ => c,
    }));

    private static string[] ReadCommon()
    {
        using var stream = typeof(PasswordRules).Assembly.GetManifestResourceStream("CommonPasswords.txt")!;
        using var reader = new StreamReader(stream);
        return [.. reader.ReadToEnd().Split('\n', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries)
            .Where(line => line[0] != '#').SelectMany(line => line.Split(' ')).Select(Plain).Distinct()];
    }
}
