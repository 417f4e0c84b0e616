using System.Data.Common;
using Microsoft.EntityFrameworkCore;

namespace StagedMargins.Storage.Ledger;

/// <summary>The end of a stream, which no other writer moves until the transaction at hand ends.</summary>
/// <param name="Head">The head.</param>
/// <param name="IsNew">True where the stream has none yet.</param>
/// <param name="LastNumber">The number of the last entry that is there; 0 where there is none.</param>
/// <param name="LastHash">Its seal.</param>
public sealed record LockedHead(LedgerHead Head, bool IsNew, long LastNumber, byte[] LastHash)
{
    /// <summary>False where entries were cut off, put in, or the head was moved: nothing must be built upon that.</summary>
    public bool EndsAtHead => LastNumber == Head.Number && LastHash.AsSpan().SequenceEqual(Head.Hash);
}

/// <summary>The ends of streams, and the queues of their writers. Always in this order: the case, then the head.</summary>
public static class LedgerHeads
{
    /// <summary>The end of a stream, once no other writer has it.</summary>
    /// <param name="db">The record, in a transaction.</param>
    /// <param name="clinicId">The clinic.</param>
    /// <param name="stream">The stream.</param>
    /// <param name="cancel">Ends the wait.</param>
    public static async Task<LockedHead> LockHeadAsync(this ClinicContext db, Guid clinicId, string stream, CancellationToken cancel)
    {
        // The lock and the look are two statements: what another writer added while one waited is seen by the second alone. A
        // transaction of SQLite that writes has the whole file.
        var statements = new Statements(db);
        statements.Add(db.IsSqlite
            ? $"SELECT epoch, number, hash, min_writer, min_reader, administered_at FROM ledger_heads WHERE clinic_id = {clinicId} AND stream = {stream}"
            : (FormattableString)$"SELECT epoch, number, hash, min_writer, min_reader, administered_at FROM ledger_heads WHERE clinic_id = {clinicId} AND stream = {stream} FOR UPDATE");
        statements.Add($"SELECT number, hash FROM ledger_entries WHERE clinic_id = {clinicId} AND stream = {stream} ORDER BY epoch DESC, number DESC LIMIT 1");
        return await statements.ReadAsync(
            async rows =>
            {
                var head = await rows.ReadAsync(cancel) ? HeadIn(rows, clinicId, stream) : null;
                await rows.NextResultAsync(cancel);
                var (number, hash) = await rows.ReadAsync(cancel) ? (rows.GetInt64(0), rows.GetFieldValue<byte[]>(1)) : (0, []);
                return new LockedHead(head ?? new LedgerHead { ClinicId = clinicId, Stream = stream }, head is null, number, hash);
            },
            cancel);
    }

    private static LedgerHead HeadIn(DbDataReader rows, Guid clinicId, string stream) => new()
    {
        ClinicId = clinicId,
        Stream = stream,
        Epoch = rows.GetInt32(0),
        Number = rows.GetInt64(1),
        Hash = rows.GetFieldValue<byte[]>(2),
        MinWriter = rows.GetInt32(3),
        MinReader = rows.GetInt32(4),
        AdministeredAt = rows.GetInt64(5),
    };

    /// <summary>Waits until no other writer has a case; nobody else has it until the transaction at hand ends.</summary>
    internal static Task LockCaseAsync(this ClinicContext db, Guid clinicId, Guid caseId, CancellationToken cancel)
    {
        var statements = new Statements(db);
        statements.AddCaseLock(db, clinicId, caseId);
        return statements.ExecuteAsync(cancel);
    }

    /// <summary>Adds the statement that waits for a case, which gives a result of its own.</summary>
    /// <returns>False where none is needed: a transaction of SQLite that writes has the whole file.</returns>
    internal static bool AddCaseLock(this Statements statements, ClinicContext db, Guid clinicId, Guid caseId)
    {
        if (!db.IsSqlite)
        {
            statements.Add($"SELECT 1 FROM cases WHERE clinic_id = {clinicId} AND case_id = {caseId} FOR UPDATE");
        }

        return !db.IsSqlite;
    }

    /// <summary>Writes a head as it was changed, in the transaction that has it.</summary>
    internal static Task WriteHeadAsync(this ClinicContext db, LockedHead head, CancellationToken cancel)
    {
        var statements = new Statements(db);
        head.AddTo(statements, db);
        return statements.ExecuteAsync(cancel);
    }

    /// <summary>Adds the statement that writes a head.</summary>
    internal static void AddTo(this LockedHead head, Statements statements, ClinicContext db)
    {
        var sql = TableSql.Of<LedgerHead>(db);
        statements.Add(head.IsNew ? sql.Insert(head.Head) : sql.Update(head.Head));
    }

    /// <summary>The epoch that a clinic's record is in.</summary>
    internal static Task<int> EpochAsync(this ClinicContext db, Guid clinicId, CancellationToken cancel) => db.LedgerHeads.IgnoreQueryFilters()
        .Where(head => head.ClinicId == clinicId && head.Stream == LedgerStreams.Record).Select(head => head.Epoch).SingleOrDefaultAsync(cancel);

    /// <summary>The number of the last entry about a clinic itself or its people.</summary>
    public static Task<long> AdministeredAtAsync(this ClinicContext db, Guid clinicId, CancellationToken cancel) => db.LedgerHeads.IgnoreQueryFilters()
        .Where(head => head.ClinicId == clinicId && head.Stream == LedgerStreams.Record).Select(head => head.AdministeredAt).SingleOrDefaultAsync(cancel);
}
