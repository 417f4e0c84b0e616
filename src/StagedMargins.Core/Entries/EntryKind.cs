using System.Reflection;
using System.Text.Json;

namespace StagedMargins.Core.Entries;

/// <summary>A kind of entry.</summary>
/// <param name="Subject">The kind of subject that it is about; one of <see cref="EntrySubjects"/>.</param>
/// <param name="Word">What is done, in one word; it stands in the ledger and in the history.</param>
/// <param name="Form">The version of its stored form, from 1.</param>
/// <param name="Event">The type that holds what was decided.</param>
public record EntryKind(string Subject, string Word, int Form, Type Event);

/// <summary>What entries are about.</summary>
public static class EntrySubjects
{
    /// <summary>A case.</summary>
    public const string Case = "case";

    /// <summary>A patient, to whom cases belong.</summary>
    public const string Patient = "patient";

    /// <summary>Someone who signs in.</summary>
    public const string Person = "person";

    /// <summary>The clinic: its settings, its tokens for other systems, its closed months.</summary>
    public const string Clinic = "clinic";

    /// <summary>What is read: openings of cases. Such entries have no subject of their own.</summary>
    public const string Access = "access";
}

/// <summary>Every kind of entry that this version knows.</summary>
public static class EntryKinds
{
    // Every type of this assembly that an entry can hold has its kind in a static field.
    private static readonly Dictionary<Type, EntryKind> ByEvent = typeof(EntryKinds).Assembly.GetTypes()
        .Where(type => !type.IsAbstract && type.Namespace?.StartsWith(typeof(EntryKinds).Namespace!, StringComparison.Ordinal) == true)
        .Select(type => type.GetField("Kind", BindingFlags.Public | BindingFlags.Static))
        .Where(field => field?.FieldType.IsAssignableTo(typeof(EntryKind)) == true)
        .Select(field => (EntryKind)field!.GetValue(null)!)
        .ToDictionary(kind => kind.Event);

    private static readonly Dictionary<(string, string), EntryKind> ByWord = ByEvent.Values.ToDictionary(kind => (kind.Subject, kind.Word));

    /// <summary>All of them.</summary>
    public static IReadOnlyCollection<EntryKind> All => ByEvent.Values;

    /// <summary>The kind of a word about a kind of subject; null where this version knows none.</summary>
    public static EntryKind? Find(string subject, string word) => ByWord.GetValueOrDefault((subject, word));

    /// <summary>The kind of an entry, in the form in which this version reads it.</summary>
    /// <exception cref="JsonException">This version does not know it, or not in that form.</exception>
    public static EntryKind Known(string subject, string word, int form) => Find(subject, word) is { } kind && kind.Form == form
        ? kind
        : throw new JsonException("An entry of a kind or form that this version does not know.");

    /// <summary>The kind of a type of event.</summary>
    internal static EntryKind Of(Type type) => ByEvent[type];
}
