using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Core;
using StagedMargins.Core.Entries;
using StagedMargins.Core.Mapping;
using StagedMargins.Storage.Ledger;

namespace StagedMargins.Storage.Cases;

/// <summary>Cases made from their entries.</summary>
public static class CaseEntries
{
    /// <summary>The entries of a case of the clinic in scope, in order; none where there is no such case.</summary>
    public static Task<List<LedgerRow>> EntriesOfCaseAsync(this ClinicContext db, Guid caseId, CancellationToken cancel) =>
        db.Ledger.AsNoTracking().Where(row => row.SubjectKind == EntrySubjects.Case && row.SubjectId == caseId).OrderBy(row => row.SubjectNumber).ToListAsync(cancel);

    /// <summary>A case of the clinic in scope; null where there is none of that number.</summary>
    /// <exception cref="UnreadableEntryException">An entry can't be read.</exception>
    public static async Task<SurgicalCase?> FindCaseAsync(this ClinicContext db, Guid id, CancellationToken cancel) =>
        await db.EntriesOfCaseAsync(id, cancel) is { Count: > 0 } rows ? CaseOf(rows, await db.SubjectOfAsync(rows, cancel)) : null;

    /// <summary>The subject of entries with its data key.</summary>
    public static Task<SubjectKey> SubjectOfAsync(this ClinicContext db, IReadOnlyList<LedgerRow> rows, CancellationToken cancel) =>
        db.Keys.OfCaseAsync(db, rows[0].ClinicId, rows[0].SubjectId!.Value, cancel);

    /// <summary>Cases of the clinic in scope, in the order in which they are asked for.</summary>
    public static async Task<LoadedCases> LoadCasesAsync(this ClinicContext db, IReadOnlyList<Guid> ids, CancellationToken cancel)
    {
        var wanted = ids.Select(id => (Guid?)id).ToList();
        var rows = await db.Ledger.AsNoTracking().Where(row => row.SubjectKind == EntrySubjects.Case && wanted.Contains(row.SubjectId))
            .OrderBy(row => row.SubjectId).ThenBy(row => row.SubjectNumber).ToListAsync(cancel);
        var subjects = rows.Count == 0 ? null : await db.Keys.OfCasesAsync(db, rows[0].ClinicId, ids, cancel);
        var (made, unreadable) = (new Dictionary<Guid, SurgicalCase>(), new Dictionary<Guid, UnreadableEntryException>());
        foreach (var ofCase in rows.GroupBy(row => row.SubjectId!.Value))
        {
            try
            {
                made[ofCase.Key] = CaseOf([.. ofCase], subjects![ofCase.Key]);
            }
            catch (UnreadableEntryException e)
            {
                unreadable[ofCase.Key] = e;
            }
        }

        return new LoadedCases([.. ids.Where(made.ContainsKey).Select(id => made[id])], unreadable);
    }

    /// <summary>The case that its entries make.</summary>
    /// <param name="rows">All entries of the case, in order.</param>
    /// <param name="subject">The case with its data key.</param>
    /// <exception cref="UnreadableEntryException">One of them can't be read.</exception>
    public static SurgicalCase CaseOf(IReadOnlyList<LedgerRow> rows, SubjectKey subject)
    {
        var made = SurgicalCase.FromEntries(rows[0].ClinicId, rows[0].SubjectId!.Value, []);
        foreach (var row in rows)
        {
            try
            {
                made.Apply(EventOf(row, subject), row.Authorship());
            }
            catch (Exception e) when (e is JsonException or FormatException or InvalidEntryException or NotInRecordException or ArgumentOutOfRangeException or InvalidOperationException or CryptographicException)
            {
                throw new UnreadableEntryException(row.SubjectNumber ?? 0, e);
            }
        }

        return made;
    }

    /// <summary>What an entry says.</summary>
    /// <exception cref="JsonException">Of a kind or form that this version does not know, or not as that form is.</exception>
    public static CaseEvent EventOf(LedgerRow row, SubjectKey subject) => CaseEntryKind.Find(row.Kind) is { } kind && kind.Form == row.Form
        ? EntryJson.Read(kind, Encoding.UTF8.GetBytes(row.Body), subject)
        : throw new JsonException("An entry of a kind or form that this version does not know.");
}

/// <summary>Cases that were asked for together.</summary>
/// <param name="Readable">Those that can be read, in order.</param>
/// <param name="Unreadable">Those that can't, and why: one damaged case must not hide the others.</param>
public sealed record LoadedCases(IReadOnlyList<SurgicalCase> Readable, IReadOnlyDictionary<Guid, UnreadableEntryException> Unreadable)
{
    /// <summary>All of them, for figures in which none may be missing.</summary>
    /// <exception cref="UnreadableEntryException">One can't be read.</exception>
    public IReadOnlyList<SurgicalCase> All => Unreadable.Count == 0 ? Readable : throw Unreadable.Values.First();
}

/// <summary>An entry of a case can't be read: it was changed, or a newer version wrote it.</summary>
/// <param name="number">Its number among the entries of the case.</param>
/// <param name="inner">Why.</param>
public sealed class UnreadableEntryException(long number, Exception inner) : Exception($"Entry {number} of this case can't be read: it was changed, or written by a newer version of the program.", inner)
{
    /// <summary>Its number among the entries of the case.</summary>
    public long Number { get; } = number;
}
