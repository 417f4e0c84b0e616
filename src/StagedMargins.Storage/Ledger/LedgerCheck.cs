using Microsoft.EntityFrameworkCore;
using StagedMargins.Core.Entries;
using StagedMargins.Core.Entries.Clinics;
using StagedMargins.Storage.AccessLog;
using StagedMargins.Storage.Cases;
using StagedMargins.Storage.Clinics;
using StagedMargins.Storage.Patients;
using StagedMargins.Storage.People;

namespace StagedMargins.Storage.Ledger;

/// <summary>Where a record is not as it was written.</summary>
/// <param name="Sequence">The entry at which it shows: its number among those of its case, or in the stream where the stream is checked.</param>
/// <param name="Row">What is at fault.</param>
/// <param name="Why">What is wrong with it.</param>
public sealed record LedgerFault(long Sequence, string Row, string Why);

/// <summary>Checks that entries are as they were written, and that what is computed from them follows.</summary>
/// <param name="keys">The keys.</param>
/// <param name="prints">Makes the fingerprints of credentials.</param>
public sealed class LedgerCheck(LedgerKeys keys, CredentialPrints prints)
{
    private const string Entries = LedgerRowConfiguration.Table;

    /// <summary>The first fault of a stream of the clinic in scope from its first entry to its head; null where there is none.</summary>
    /// <param name="db">The record.</param>
    /// <param name="stream">The stream.</param>
    /// <param name="cancel">Ends the check.</param>
    public async Task<LedgerFault?> FirstFaultAsync(ClinicContext db, string stream, CancellationToken cancel)
    {
        var (expected, previous) = (1L, Array.Empty<byte>());
        await foreach (var row in db.Ledger.AsNoTracking().Where(row => row.Stream == stream).OrderBy(row => row.Number).ThenBy(row => row.Epoch).AsAsyncEnumerable().WithCancellation(cancel))
        {
            if (row.Number != expected)
            {
                return new LedgerFault(expected, Entries, row.Number > expected ? "An entry is missing." : "An entry stands twice.");
            }

            if (!row.PreviousHash.AsSpan().SequenceEqual(previous))
            {
                return new LedgerFault(expected, Entries, "This entry does not follow from the one before.");
            }

            if (SealFaultOf(row, expected) is { } fault)
            {
                return fault;
            }

            (expected, previous) = (expected + 1, row.Hash);
        }

        var head = await db.LedgerHeads.AsNoTracking().SingleOrDefaultAsync(head => head.Stream == stream, cancel);
        return (head?.Number ?? 0) == expected - 1 && (head?.Hash ?? []).AsSpan().SequenceEqual(previous)
            ? null
            : new LedgerFault(expected - 1, "ledger_heads", "The record does not end where it was last sealed.");
    }

    /// <summary>The fault that a head kept elsewhere shows; null where the record still has that entry as it was.</summary>
    /// <param name="db">The record, with the clinic of the head in scope.</param>
    /// <param name="anchor">The head.</param>
    /// <param name="cancel">Ends the check.</param>
    public static async Task<LedgerFault?> FaultAtAsync(ClinicContext db, LedgerAnchor anchor, CancellationToken cancel)
    {
        if (anchor.Number == 0)
        {
            return null;
        }

        var row = await db.Ledger.AsNoTracking().SingleOrDefaultAsync(
            row => row.Stream == anchor.Stream && row.Epoch == anchor.Epoch && row.Number == anchor.Number, cancel);
        return row switch
        {
            null when await IsRestoredSinceAsync(db, anchor, cancel) => null,
            null => new LedgerFault(anchor.Number, Entries, "The record had this entry and has it no longer: it was put back to an earlier day, or entries were cut off."),
            { Hash: var hash } when Convert.ToHexStringLower(hash) != anchor.Hash => new LedgerFault(anchor.Number, Entries, "This entry is another than the record had."),
            _ => null,
        };
    }

    /// <summary>What was done to the record of the clinic in scope as a whole: restored from a backup, or its end accepted by an administrator.</summary>
    public static async Task<IReadOnlyList<LedgerRow>> InterventionsAsync(ClinicContext db, CancellationToken cancel) => await db.Ledger.AsNoTracking()
        .Where(row => row.SubjectKind == EntrySubjects.Clinic && (row.Kind == RecordRestored.Kind.Word || row.Kind == RecordEndAccepted.Kind.Word))
        .OrderBy(row => row.SubjectNumber).ToListAsync(cancel);

    // What was written after the backup is gone, and an entry says so.
    private static async Task<bool> IsRestoredSinceAsync(ClinicContext db, LedgerAnchor anchor, CancellationToken cancel) =>
        await db.Ledger.AnyAsync(row => row.Kind == RecordRestored.Kind.Word && row.Epoch > anchor.Epoch, cancel);

    /// <summary>What is not as the entries say in the clinic in scope itself: settings, tokens, closed months, accounts, patients, openings.</summary>
    /// <param name="db">The record.</param>
    /// <param name="clinicId">The clinic.</param>
    /// <param name="cancel">Ends the check.</param>
    public async Task<IReadOnlyList<LedgerFault>> FaultsOfClinicAsync(ClinicContext db, Guid clinicId, CancellationToken cancel) =>
    [
        .. await new ClinicCheck(prints).FaultsAsync(db, clinicId, cancel),
        .. await new AccountCheck(prints).FaultsAsync(db, clinicId, cancel),
        .. await new PatientCheck(keys).FaultsAsync(db, clinicId, cancel),
        .. await AccessCheck.FirstFaultAsync(db, clinicId, cancel) is { } fault ? [fault] : Array.Empty<LedgerFault>(),
    ];

    /// <summary>The first fault of a case of the clinic in scope; null where all is as it was written.</summary>
    /// <param name="db">The record.</param>
    /// <param name="caseId">The case.</param>
    /// <param name="cancel">Ends the check.</param>
    public async Task<LedgerFault?> FirstFaultOfCaseAsync(ClinicContext db, Guid caseId, CancellationToken cancel)
    {
        var rows = await db.EntriesOfCaseAsync(caseId, cancel);
        for (var i = 0; i < rows.Count; i++)
        {
            if (rows[i].SubjectNumber != i + 1)
            {
                return new LedgerFault(i + 1, Entries, "An entry of this case is missing.");
            }

            if (SealFaultOf(rows[i], i + 1) is { } fault)
            {
                return fault;
            }
        }

        try
        {
            return rows.Count == 0
                ? new LedgerFault(0, Entries, "The case has no entries.")
                : await FaultOfComputedAsync(db, rows, cancel);
        }
        catch (UnreadableEntryException e)
        {
            return new LedgerFault(e.Number, Entries, e.Message);
        }
    }

    private LedgerFault? SealFaultOf(LedgerRow row, long sequence)
    {
        if (keys.Find(row.KeyId) is not { } key)
        {
            return new LedgerFault(sequence, Entries, "The key that sealed this entry is unknown here.");
        }

        if (!EntrySeal.Holds(row.ToEntry(), key))
        {
            return new LedgerFault(sequence, Entries, "This entry was changed after it was written.");
        }

        return EntryKinds.Find(row.SubjectKind ?? EntrySubjects.Access, row.Kind)?.Form == row.Form
            ? null
            : new LedgerFault(sequence, Entries, $"This version does not know entries of the kind {row.Kind}, form {row.Form}.");
    }

    private static async Task<LedgerFault?> FaultOfComputedAsync(ClinicContext db, IReadOnlyList<LedgerRow> rows, CancellationToken cancel)
    {
        var subject = await db.SubjectOfAsync(rows, cancel);
        var made = CaseEntries.CaseOf(rows, subject);
        foreach (var photo in subject.Key is null ? [] : made.SitePhotos)
        {
            if (await db.FindPhotographAsync(made, photo, cancel) is null)
            {
                return new LedgerFault(made.Version, $"photographs {photo.Ordinal}", "The file of a photo was changed after it was written.");
            }
        }

        return await db.ListsFollowAsync(made, subject, cancel) ? null : new LedgerFault(made.Version, "cases", "The case's row in lists does not match its entries.");
    }
}
