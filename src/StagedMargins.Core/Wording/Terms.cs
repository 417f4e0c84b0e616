using System.Globalization;
using System.Resources;
using System.Runtime.CompilerServices;

namespace StagedMargins.Core.Wording;

/// <summary>
/// The clinical words that people read: on pages, maps and paper, in messages, exports and scripts. They stand in <c>Terms.resx</c>, as
/// in the middle of a sentence; a further language is a further file beside it. What systems read is <see cref="EnumNames{T}"/>.
/// </summary>
public static class Terms
{
    private static readonly ResourceManager Words = new(typeof(Terms));

    /// <summary>Of a place: positive, and no later layer has taken it.</summary>
    public static string Outstanding => Word();

    /// <summary>Of a place or a block: without an adequate reading.</summary>
    public static string Unread => Word();

    /// <summary>What the next layer should take.</summary>
    public static string Target => Word();

    /// <summary>The middle of the deep margin.</summary>
    public static string Centre => Word();

    /// <summary>The whole circle of a margin.</summary>
    public static string AllAround => Word();

    /// <summary>No place at all.</summary>
    public static string None => Word();

    /// <summary>Inflammation with the reason why it is marked.</summary>
    public static string InflammationMayHideTumour => Word();

    /// <summary>Of a reading: neither written down nor countersigned by its reader.</summary>
    public static string NotSigned => Word();

    /// <summary>Of a fact that nobody entered, which is not a "no".</summary>
    public static string NotEntered => Word();

    /// <summary>Lymph nodes with tumour.</summary>
    public static string PositiveNodes => Word();

    /// <summary>A tumour that can't be taken out whole.</summary>
    public static string UnresectableTumour => Word();

    /// <summary>The syndrome in which radiation is usually avoided.</summary>
    public static string BasalCellNaevusSyndrome => Word();

    /// <summary>Yes.</summary>
    public static string Yes => Word();

    /// <summary>No.</summary>
    public static string No => Word();

    /// <summary>The word for a member of an enum of the domain.</summary>
    /// <exception cref="MissingManifestResourceException">It has none: an enum that people never read, or a member without its word.</exception>
    public static string Of<T>(T value)
        where T : struct, Enum => Word($"{typeof(T).Name}.{value}");

    /// <summary>The name of a site.</summary>
    /// <param name="code">ICD-O-3 topography.</param>
    public static string OfSite(string code) => Word($"Site.{code}");

    /// <summary>The name of a type of tumour.</summary>
    /// <param name="code">ICD-O-3 morphology with behaviour.</param>
    public static string OfTumour(string code) => Word($"TumourType.{code}");

    /// <summary>A term as it begins a sentence or stands alone.</summary>
    public static string Capitalised(this string words) => words.Length == 0 ? words : char.ToUpper(words[0], CultureInfo.CurrentUICulture) + words[1..];

    private static string Word([CallerMemberName] string key = "") =>
        Words.GetString(key, CultureInfo.CurrentUICulture) ?? throw new MissingManifestResourceException($"There is no term {key}.");
}
