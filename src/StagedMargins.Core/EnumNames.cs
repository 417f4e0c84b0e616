using System.Collections.Frozen;

namespace StagedMargins.Core;

/// <summary>
/// The one spelling of a word of the domain for other systems: in JSON and in the database. People read <see cref="Wording.Terms"/>. It is the name of the
/// enum's member in camelCase, save for <see cref="Intake.AreaClass"/>, whose letters are written as the trade writes them.
/// </summary>
/// <typeparam name="T">The enum of the domain.</typeparam>
public static class EnumNames<T>
    where T : struct, Enum
{
    private static readonly FrozenDictionary<T, string> Spelling =
        Enum.GetValues<T>().ToFrozenDictionary(value => value, value => Spell(value.ToString()));

    private static readonly FrozenDictionary<string, T> Meaning =
        Spelling.ToFrozenDictionary(pair => pair.Value, pair => pair.Key, StringComparer.Ordinal);

    /// <summary>All words, in the order of the enum.</summary>
    public static IReadOnlyList<string> All { get; } = [.. Enum.GetValues<T>().Select(value => Spelling[value])];

    /// <summary>The word for a value.</summary>
    public static string Of(T value) => Spelling[value];

    /// <summary>The value of a word, exact in case.</summary>
    /// <returns>False where it is not one of the words.</returns>
    public static bool TryParse(string? word, out T value)
    {
        value = default;
        return word is not null && Meaning.TryGetValue(word, out value);
    }

    /// <summary>The value of a word that the program wrote itself.</summary>
    /// <exception cref="FormatException">It is not one of the words.</exception>
    public static T Parse(string word) => TryParse(word, out var value)
        ? value
        : throw new FormatException($"A stored {typeof(T).Name} is not one of {string.Join(", ", All)}.");

    private static string Spell(string name) => name.Length == 1 ? name : char.ToLowerInvariant(name[0]) + name[1..];
}
