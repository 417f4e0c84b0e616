using Microsoft.EntityFrameworkCore;

namespace StagedMargins.Storage.Ledger;

/// <summary>The ends of streams, and the queues of their writers. Always in this order: the case, then the head.</summary>
public static class LedgerHeads
{
    /// <summary>Waits until no other writer has the case; nobody else has it until the transaction at hand ends.</summary>
    /// <param name="db">The record, in a transaction.</param>
    /// <param name="clinicId">The clinic.</param>
    /// <param name="caseId">The case.</param>
    /// <param name="cancel">Ends the wait.</param>
    public static async Task LockCaseAsync(this ClinicContext db, Guid clinicId, Guid caseId, CancellationToken cancel)
    {
        if (db.IsPostgres())
        {
            await db.Database.ExecuteSqlAsync($"SELECT 1 FROM cases WHERE clinic_id = {clinicId} AND case_id = {caseId} FOR UPDATE", cancel);
        }
    }

    /// <summary>The head of a stream, tracked; no other writer moves it until the transaction at hand ends. It is made where there is none.</summary>
    /// <param name="db">The record, in a transaction.</param>
    /// <param name="clinicId">The clinic.</param>
    /// <param name="stream">The stream.</param>
    /// <param name="cancel">Ends the wait.</param>
    public static async Task<LedgerHead> LockHeadAsync(this ClinicContext db, Guid clinicId, string stream, CancellationToken cancel)
    {
        // What one transaction wrote before, it goes on from; what an earlier transaction locked is anyone's since.
        var transaction = db.Database.CurrentTransaction?.TransactionId;
        if (db.LedgerHeads.Local.FirstOrDefault(head => head.ClinicId == clinicId && head.Stream == stream) is { } locked)
        {
            if (locked.LockedBy == transaction)
            {
                return locked;
            }

            db.Entry(locked).State = EntityState.Detached;
        }

        // A transaction of SQLite that writes has the whole file.
        var found = db.IsPostgres()
            ? await db.LedgerHeads.FromSql($"SELECT * FROM ledger_heads WHERE clinic_id = {clinicId} AND stream = {stream} FOR UPDATE").IgnoreQueryFilters().ToListAsync(cancel)
            : await db.LedgerHeads.IgnoreQueryFilters().Where(head => head.ClinicId == clinicId && head.Stream == stream).ToListAsync(cancel);
        var head = found is [var only] ? only : db.Add(new LedgerHead { ClinicId = clinicId, Stream = stream }).Entity;
        head.LockedBy = transaction;
        return head;
    }

    /// <summary>True where a stream ends where its head says. A head that was moved, or an end that was cut off, must not be built upon.</summary>
    internal static async Task<bool> EndsAtHeadAsync(this ClinicContext db, LedgerHead head, CancellationToken cancel)
    {
        // What is not saved yet has been added to an end that was looked at before.
        if (db.Ledger.Local.Any(row => row.ClinicId == head.ClinicId && row.Stream == head.Stream && db.Entry(row).State == EntityState.Added))
        {
            return true;
        }

        var (number, hash) = await db.LastOfStreamAsync(head.ClinicId, head.Stream, cancel);
        return number == head.Number && hash.AsSpan().SequenceEqual(head.Hash);
    }

    /// <summary>Number and seal of the last entry of a stream; 0 and nothing where there is none.</summary>
    internal static async Task<(long Number, byte[] Hash)> LastOfStreamAsync(this ClinicContext db, Guid clinicId, string stream, CancellationToken cancel)
    {
        var last = await db.Ledger.IgnoreQueryFilters().Where(row => row.ClinicId == clinicId && row.Stream == stream)
            .OrderByDescending(row => row.Epoch).ThenByDescending(row => row.Number)
            .Select(row => new { row.Number, row.Hash })
            .FirstOrDefaultAsync(cancel);
        return last is null ? (0, []) : (last.Number, last.Hash);
    }

    /// <summary>The epoch that a clinic's record is in.</summary>
    internal static Task<int> EpochAsync(this ClinicContext db, Guid clinicId, CancellationToken cancel) => db.LedgerHeads.IgnoreQueryFilters()
        .Where(head => head.ClinicId == clinicId && head.Stream == LedgerStreams.Record).Select(head => head.Epoch).SingleOrDefaultAsync(cancel);

    private static bool IsPostgres(this ClinicContext db) => db.Database.ProviderName == "Npgsql.EntityFrameworkCore.PostgreSQL";
}
