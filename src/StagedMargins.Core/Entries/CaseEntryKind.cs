using System.Reflection;

namespace StagedMargins.Core.Entries;

/// <summary>A kind of entry in a case.</summary>
/// <param name="Word">What is done, in one word; it stands in the ledger and in the history.</param>
/// <param name="Form">The version of its stored form, from 1.</param>
/// <param name="Event">The type that holds what was decided.</param>
/// <param name="SurgeonAlone">True where a surgeon alone may write it; else a histotech may, too.</param>
/// <param name="InPerson">True where another system with a token may not.</param>
public sealed record CaseEntryKind(string Word, int Form, Type Event, bool SurgeonAlone, bool InPerson)
{
    // Every type of this assembly that is an event has its kind in a static field.
    private static readonly Dictionary<string, CaseEntryKind> ByWord = typeof(CaseEvent).Assembly.GetTypes()
        .Where(type => type.IsSubclassOf(typeof(CaseEvent)) && !type.IsAbstract)
        .Select(type => (CaseEntryKind)type.GetField("Kind", BindingFlags.Public | BindingFlags.Static)!.GetValue(null)!)
        .ToDictionary(kind => kind.Word);

    private static readonly Dictionary<Type, CaseEntryKind> ByEvent = ByWord.Values.ToDictionary(kind => kind.Event);

    /// <summary>Every kind.</summary>
    public static IReadOnlyCollection<CaseEntryKind> All => ByWord.Values;

    /// <summary>The kind of a word; null where this version knows none.</summary>
    public static CaseEntryKind? Find(string word) => ByWord.GetValueOrDefault(word);

    /// <summary>The kind of a type of event.</summary>
    internal static CaseEntryKind Of(Type type) => ByEvent[type];

    internal static CaseEntryKind For<T>(string word, bool surgeonAlone = false, bool inPerson = false, int form = 1)
        where T : CaseEvent => new(word, form, typeof(T), surgeonAlone, inPerson);
}
