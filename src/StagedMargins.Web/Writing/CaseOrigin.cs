using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Core.Entries;
using StagedMargins.Core.Wording;
using StagedMargins.Storage;
using StagedMargins.Storage.History;
using StagedMargins.Web.Hosting;

namespace StagedMargins.Web.Writing;

/// <summary>Where a case came from, in words: its signatures were given there, and whoever reads it here must know.</summary>
internal static class CaseOrigin
{
    internal static readonly string Imported = CaseImported.Kind.Word;

    /// <summary>A sentence for each time the case was taken over, oldest first; none for a case that was opened here.</summary>
    internal static async Task<IReadOnlyList<string>> LoadAsync(ClinicContext db, Guid caseId, ClinicPeople people, CancellationToken cancel) =>
        Of(await db.History.AsNoTracking().Where(row => row.CaseId == caseId && row.What == Imported).OrderBy(row => row.Sequence).ToListAsync(cancel), people);

    /// <summary>The same, from a history that was read already.</summary>
    internal static IReadOnlyList<string> Of(IEnumerable<HistoryEntry> history, ClinicPeople people) => [.. history.Where(row => row.What == Imported).Select(row => Sentence(row, people))];

    private static string Sentence(HistoryEntry row, ClinicPeople people)
    {
        var imported = $"Imported {row.At.InWords()} by {people.EmailOf(row.ById)}";
        return NoteIn(row) is { } note
            ? $"{imported}: entries 1 to {note.Entries}, with their authors and signatures, are as given in the file. File SHA-256 {note.Sha256}."
            : $"{imported}; the import note has changed since it was written.";
    }

    // A row that someone changed may no longer be JSON; the check of the record names it.
    private static CaseImported? NoteIn(HistoryEntry row)
    {
        try
        {
            return JsonSerializer.Deserialize<CaseImported>(row.Content, ApiJson.Options);
        }
        catch (JsonException)
        {
            return null;
        }
    }
}
