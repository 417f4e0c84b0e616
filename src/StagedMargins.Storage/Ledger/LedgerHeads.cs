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
        // What one transaction wrote before, it goes on from.
        if (db.LedgerHeads.Local.FirstOrDefault(head => head.ClinicId == clinicId && head.Stream == stream) is { } locked)
        {
            return locked;
        }

        // A transaction of SQLite that writes has the whole file.
        var found = db.IsPostgres()
            ? await db.LedgerHeads.FromSql($"SELECT * FROM ledger_heads WHERE clinic_id = {clinicId} AND stream = {stream} FOR UPDATE").IgnoreQueryFilters().ToListAsync(cancel)
            : await db.LedgerHeads.IgnoreQueryFilters().Where(head => head.ClinicId == clinicId && head.Stream == stream).ToListAsync(cancel);
        return found is [var only] ? only : db.Add(new LedgerHead { ClinicId = clinicId, Stream = stream }).Entity;
    }

    private static bool IsPostgres(this ClinicContext db) => db.Database.ProviderName == "Npgsql.EntityFrameworkCore.PostgreSQL";
}
