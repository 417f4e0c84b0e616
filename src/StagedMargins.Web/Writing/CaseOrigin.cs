using StagedMargins.Core.Entries;
using StagedMargins.Core.Wording;
using StagedMargins.Storage.Cases;
using StagedMargins.Storage.Ledger;

namespace StagedMargins.Web.Writing;

/// <summary>Where a case came from, in words: its signatures were given there, and whoever reads it here must know.</summary>
internal static class CaseOrigin
{
    /// <summary>A sentence for each time the case was taken over, oldest first; none for a case that was opened here.</summary>
    internal static IReadOnlyList<string> Of(IEnumerable<KnownEntry> entries) =>
        [.. entries.Where(entry => entry.Event is CaseImported).Select(entry => Sentence(entry, (CaseImported)entry.Event))];

    private static string Sentence(KnownEntry entry, CaseImported note) =>
        $"Imported {entry.At.InWords()} by {LedgerAuthor.AddressIn(entry.By.Name)}: entries 1 to {note.Entries}, with their authors and signatures, are as given in the file. File SHA-256 {note.Sha256}.";
}
