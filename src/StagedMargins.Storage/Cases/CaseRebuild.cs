using Microsoft.EntityFrameworkCore;
using StagedMargins.Core.Entries;
using StagedMargins.Storage.Audit;
using StagedMargins.Storage.Ledger;

namespace StagedMargins.Storage.Cases;

/// <summary>Makes the computed rows of cases again from their entries.</summary>
public static class CaseRebuild
{
    /// <summary>The rows that are computed from cases, which can be thrown away.</summary>
    public static readonly IReadOnlyCollection<Type> ComputedRows = [typeof(CaseRow), typeof(SecondReadRow), typeof(AuditCase), typeof(AuditStage)];

    /// <summary>Makes the rows of every case of the clinic in scope, in the transaction at hand, where there are none yet.</summary>
    /// <param name="db">The record.</param>
    /// <param name="done">Told how many cases are done.</param>
    /// <param name="cancel">Ends the work.</param>
    /// <returns>Cases that can't be read, of which there is no row now.</returns>
    public static async Task<IReadOnlyList<Guid>> MakeRowsAsync(this ClinicContext db, Action<int> done, CancellationToken cancel)
    {
        var (count, unreadable) = (0, new List<Guid>());
        foreach (var caseId in await db.CasesToRebuildAsync(cancel))
        {
            var rows = await db.EntriesOfCaseAsync(caseId, cancel);
            var (statements, subject) = (new Statements(db), await db.SubjectOfAsync(rows, cancel));
            try
            {
                db.AddRowsOf(CaseEntries.CaseOf(rows, subject), subject, rows[^1].At.Utc, statements);
                await statements.ExecuteAsync(cancel);
            }
            catch (UnreadableEntryException)
            {
                unreadable.Add(caseId);
            }

            done(++count);
        }

        return unreadable;
    }

    /// <summary>Every case of the clinic in scope that has entries, or rows without any.</summary>
    public static Task<List<Guid>> CasesToRebuildAsync(this ClinicContext db, CancellationToken cancel) =>
        db.Ledger.Where(row => row.SubjectKind == EntrySubjects.Case).Select(row => row.SubjectId!.Value).Union(db.Cases.Select(row => row.CaseId)).ToListAsync(cancel);

    /// <summary>Makes the rows of a case again where they don't follow, while its writers wait.</summary>
    /// <returns>True where they did not follow.</returns>
    /// <exception cref="UnreadableEntryException">An entry can't be read.</exception>
    public static async Task<bool> RebuildAsync(this ClinicContext db, Guid clinicId, Guid caseId, CancellationToken cancel)
    {
        db.ChangeTracker.Clear();
        await using var transaction = await db.Database.BeginTransactionAsync(cancel);
        await db.LockCaseAsync(clinicId, caseId, cancel);
        await db.LockHeadAsync(clinicId, LedgerStreams.Record, cancel);
        var rows = await db.EntriesOfCaseAsync(caseId, cancel);
        if (rows.Count == 0)
        {
            // A row that no entry made.
            await db.RemoveRowsAsync(caseId, cancel);
            await transaction.CommitAsync(cancel);
            return true;
        }

        var subject = await db.SubjectOfAsync(rows, cancel);
        var made = CaseEntries.CaseOf(rows, subject);
        if (await db.ListsFollowAsync(made, subject, cancel) && await db.SummaryFollowsAsync(made, cancel))
        {
            return false;
        }

        await db.RemoveRowsAsync(caseId, cancel);
        var statements = new Statements(db);
        db.AddRowsOf(made, subject, rows[^1].At.Utc, statements);
        await statements.ExecuteAsync(cancel);
        await transaction.CommitAsync(cancel);
        return true;
    }

    private static async Task RemoveRowsAsync(this ClinicContext db, Guid caseId, CancellationToken cancel)
    {
        await db.AuditStages.Where(row => row.CaseId == caseId).ExecuteDeleteAsync(cancel);
        await db.AuditCases.Where(row => row.CaseId == caseId).ExecuteDeleteAsync(cancel);
        await db.SecondReads.Where(row => row.CaseId == caseId).ExecuteDeleteAsync(cancel);
        await db.Cases.Where(row => row.CaseId == caseId).ExecuteDeleteAsync(cancel);
    }
}
