using System.Text;

namespace StagedMargins.Core;

/// <summary>The guard for words that people write: length, and no characters that paper or a database can't hold.</summary>
public static class FreeText
{
    /// <summary>The longest free text, in characters.</summary>
    public const int Longest = 4_000;

    /// <summary>The longest short text (a label's detail, a direction), in characters.</summary>
    public const int LongestShort = 200;

    /// <summary>Trims a text; blank becomes null.</summary>
    /// <param name="field">The field's name in the API.</param>
    /// <param name="text">What was written, or null.</param>
    /// <param name="longest">The longest it may be, in characters.</param>
    /// <exception cref="InvalidEntryException">Too long, or with control characters or half characters.</exception>
    public static string? Optional(string field, string? text, int longest = Longest)
    {
        var trimmed = text?.Trim();
        if (string.IsNullOrEmpty(trimmed))
        {
            return null;
        }

        if (trimmed.Length > longest)
        {
            throw new InvalidEntryException(field, $"At most {longest} characters; this has {trimmed.Length}.");
        }

        return trimmed.EnumerateRunes().All(IsPrintable)
            ? trimmed
            : throw new InvalidEntryException(field, "Control characters and broken characters can't be stored or printed; remove them.");
    }

    /// <summary>Trims a text that must be there.</summary>
    /// <inheritdoc cref="Optional"/>
    public static string Required(string field, string? text, int longest = Longest) =>
        Optional(field, text, longest) ?? throw new InvalidEntryException(field, "Required.");

    // Half a surrogate pair is read as the replacement character; no database takes it.
    private static bool IsPrintable(Rune rune) =>
        rune != Rune.ReplacementChar && (!Rune.IsControl(rune) || rune.Value is '\n' or '\r' or '\t');
}
