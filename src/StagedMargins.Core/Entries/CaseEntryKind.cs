namespace StagedMargins.Core.Entries;

/// <summary>A kind of entry in a case.</summary>
/// <param name="Word">What is done, in one word; it stands in the ledger and in the history.</param>
/// <param name="Form">The version of its stored form, from 1.</param>
/// <param name="Event">The type that holds what was decided.</param>
/// <param name="SurgeonAlone">True where a surgeon alone may write it; else a histotech may, too.</param>
/// <param name="InPerson">True where another system with a token may not.</param>
public sealed record CaseEntryKind(string Word, int Form, Type Event, bool SurgeonAlone, bool InPerson) : EntryKind(EntrySubjects.Case, Word, Form, Event)
{
    /// <summary>Every kind.</summary>
    public static IEnumerable<CaseEntryKind> All => EntryKinds.All.OfType<CaseEntryKind>();

    /// <summary>The kind of a word; null where this version knows none.</summary>
    public static CaseEntryKind? Find(string word) => EntryKinds.Find(EntrySubjects.Case, word) as CaseEntryKind;

    internal static CaseEntryKind For<T>(string word, bool surgeonAlone = false, bool inPerson = false, int form = 1)
        where T : CaseEvent => new(word, form, typeof(T), surgeonAlone, inPerson);
}
