using System.Text.Json;
using StagedMargins.Core.Entries;
using StagedMargins.Core.Wording;
using StagedMargins.Storage.Cases;
using StagedMargins.Storage.Ledger;

namespace StagedMargins.Web.Writing;

/// <summary>Where a case came from, in words: its signatures were given there, and whoever reads it here must know.</summary>
internal static class CaseOrigin
{
    /// <summary>A sentence for each time the case was taken over, oldest first; none for a case that was opened here.</summary>
    internal static IReadOnlyList<string> Of(IEnumerable<LedgerRow> entries) => [.. entries.Where(row => row.Kind == CaseImported.Kind.Word).Select(Sentence)];

    private static string Sentence(LedgerRow row)
    {
        var (by, at) = (LedgerAuthor.AddressIn(row.ByName), row.At);
        var imported = $"Imported {at.InWords()} by {by}";
        return NoteIn(row) is { } note
            ? $"{imported}: entries 1 to {note.Entries}, with their authors and signatures, are as given in the file. File SHA-256 {note.Sha256}."
            : $"{imported}; the import note has changed since it was written.";
    }

    // An entry that someone changed may no longer be JSON; the check of the record names it.
    private static CaseImported? NoteIn(LedgerRow row)
    {
        try
        {
            return CaseEntries.EventOf(row, new SubjectKey(row.ClinicId, EntrySubjects.Case, row.SubjectId ?? default, null)) as CaseImported;
        }
        catch (JsonException)
        {
            return null;
        }
    }
}
