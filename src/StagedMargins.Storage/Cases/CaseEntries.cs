using System.Data.Common;
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
        (await db.FindKnownAsync(id, cancel))?.Case;

    /// <summary>A case of the clinic in scope by its entries: those kept in memory, if they are still those of the record, and those written since.</summary>
    /// <param name="db">The record.</param>
    /// <param name="caseId">The case.</param>
    /// <param name="cancel">Ends the wait.</param>
    /// <param name="isLocked">True where nobody else may write to the case until the transaction at hand ends.</param>
    /// <returns>Null where there is none of that number.</returns>
    /// <exception cref="UnreadableEntryException">An entry can't be read.</exception>
    public static async Task<KnownCase?> FindKnownAsync(this ClinicContext db, Guid caseId, CancellationToken cancel, bool isLocked = false) =>
        (await db.FindAsync(caseId, isLocked, withHead: false, cancel)).Case;

    /// <summary>The same, with the number of the last entry about the clinic or its people, read at the same time.</summary>
    /// <inheritdoc cref="FindKnownAsync"/>
    public static Task<(KnownCase? Case, long AdministeredAt)> FindSeenAsync(this ClinicContext db, Guid caseId, CancellationToken cancel) =>
        db.FindAsync(caseId, isLocked: false, withHead: true, cancel);

    private static async Task<(KnownCase? Case, long AdministeredAt)> FindAsync(this ClinicContext db, Guid caseId, bool isLocked, bool withHead, CancellationToken cancel)
    {
        var (kept, rows, administeredAt) = withHead && db.Scope.TakeAhead(caseId) is { } ahead && db.Database.CurrentTransaction is null
            ? ahead
            : await db.LookAsync(caseId, isLocked, withHead, cancel);
        if (kept is not null && !kept.IsFollowedBy(rows))
        {
            kept = null;
            rows = (await db.EntriesFromAsync(caseId, 1, isLocked: false, withHead: false, cancel)).Rows;
        }

        var added = kept is null ? rows : rows[1..];
        if (added.Count == 0)
        {
            return (kept, administeredAt);
        }

        var known = (kept ?? new KnownCase(db.ScopedClinicId, caseId)).With(added, await db.SubjectOfAsync(added, cancel));
        db.Memory?.Keep(known);
        return (known, administeredAt);
    }

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
    public static SurgicalCase CaseOf(IReadOnlyList<LedgerRow> rows, SubjectKey subject) => new KnownCase(rows[0].ClinicId, rows[0].SubjectId!.Value).With(rows, subject).Case;

    /// <summary>What an entry says.</summary>
    /// <exception cref="JsonException">Of a kind or form that this version does not know, or not as that form is.</exception>
    public static CaseEvent EventOf(LedgerRow row, SubjectKey subject) =>
        EntryJson.Read((CaseEntryKind)EntryKinds.Known(EntrySubjects.Case, row.Kind, row.Form), Encoding.UTF8.GetBytes(row.Body), subject);

    private static async Task<CaseLook> LookAsync(this ClinicContext db, Guid caseId, bool isLocked, bool withHead, CancellationToken cancel)
    {
        var kept = db.Memory?.Find(db.ScopedClinicId, caseId);
        var (rows, administeredAt) = await db.EntriesFromAsync(caseId, kept?.Version ?? 1, isLocked, withHead, cancel);
        return new CaseLook(kept, rows, administeredAt);
    }

    // The lock and the look are two statements: what another writer added while one waited is seen by the second alone.
    private static async Task<(List<LedgerRow> Rows, long AdministeredAt)> EntriesFromAsync(
        this ClinicContext db, Guid caseId, long number, bool isLocked, bool withHead, CancellationToken cancel)
    {
        var (statements, clinicId) = (new Statements(db), db.ScopedClinicId);
        var hasLock = isLocked && statements.AddCaseLock(db, clinicId, caseId);
        statements.AddEntriesFrom(clinicId, caseId, number);
        if (withHead)
        {
            statements.AddAdministeredAt(clinicId);
        }

        return await statements.ReadAsync(
            async rows =>
            {
                if (hasLock)
                {
                    await rows.NextResultAsync(cancel);
                }

                var found = await rows.ReadEntriesAsync(db, clinicId, caseId, cancel);
                return (found, withHead ? await rows.ReadAdministeredAtAsync(cancel) : 0);
            },
            cancel);
    }

    /// <summary>Adds the statement that reads the entries of a case from a number on.</summary>
    internal static void AddEntriesFrom(this Statements statements, Guid clinicId, Guid caseId, long number) => statements.Add($"""
        SELECT number, subject_number, kind, form, at, at_offset, by_id, by_name, origin, body, hash FROM ledger_entries
        WHERE clinic_id = {clinicId} AND subject_kind = {EntrySubjects.Case} AND subject_id = {caseId} AND subject_number >= {number} ORDER BY subject_number
        """);

    /// <summary>Adds the statement that reads the number of the last entry about a clinic or its people.</summary>
    internal static void AddAdministeredAt(this Statements statements, Guid clinicId) =>
        statements.Add($"SELECT administered_at FROM ledger_heads WHERE clinic_id = {clinicId} AND stream = {LedgerStreams.Record}");

    /// <summary>Reads the result of <see cref="AddEntriesFrom"/>.</summary>
    internal static async Task<List<LedgerRow>> ReadEntriesAsync(this DbDataReader rows, ClinicContext db, Guid clinicId, Guid caseId, CancellationToken cancel)
    {
        var found = new List<LedgerRow>();
        while (await rows.ReadAsync(cancel))
        {
            found.Add(EntryIn(rows, clinicId, caseId, db.IsSqlite));
        }

        return found;
    }

    /// <summary>Reads the next result, that of <see cref="AddAdministeredAt"/>.</summary>
    internal static async Task<long> ReadAdministeredAtAsync(this DbDataReader rows, CancellationToken cancel) =>
        await rows.NextResultAsync(cancel) && await rows.ReadAsync(cancel) ? rows.GetInt64(0) : 0;

    private static LedgerRow EntryIn(DbDataReader rows, Guid clinicId, Guid caseId, bool isSqlite) => new()
    {
        ClinicId = clinicId,
        SubjectKind = EntrySubjects.Case,
        SubjectId = caseId,
        Number = rows.GetInt64(0),
        SubjectNumber = rows.GetInt64(1),
        Kind = rows.GetString(2),
        Form = rows.GetInt32(3),
        At = new ClinicalTime(isSqlite ? new DateTime(rows.GetInt64(4), DateTimeKind.Utc) : rows.GetDateTime(4), rows.GetInt16(5)),
        ById = rows.GetGuid(6),
        ByName = rows.GetString(7),
        Origin = rows.IsDBNull(8) ? null : rows.GetString(8),
        Body = rows.GetString(9),
        Hash = rows.GetFieldValue<byte[]>(10),
    };
}

/// <summary>What was looked at of a case to see it as it is now.</summary>
/// <param name="Kept">The case as it was in memory; null where it was not.</param>
/// <param name="Rows">Its entries from the last one in memory on; from the first where there is none.</param>
/// <param name="AdministeredAt">The number of the last entry about the clinic or its people, where it was looked at.</param>
internal sealed record CaseLook(KnownCase? Kept, List<LedgerRow> Rows, long AdministeredAt);

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

    /// <summary>True for what reading or applying an entry throws where the entry does not fit.</summary>
    public static bool IsCause(Exception exception) => exception is JsonException or FormatException or InvalidEntryException or NotInRecordException
        or ArgumentOutOfRangeException or IndexOutOfRangeException or InvalidOperationException or CryptographicException;
}
