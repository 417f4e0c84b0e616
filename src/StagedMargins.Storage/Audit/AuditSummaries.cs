using Microsoft.EntityFrameworkCore;
using StagedMargins.Core.Mapping;
using StagedMargins.Storage.Cases;

namespace StagedMargins.Storage.Audit;

/// <summary>Keeps the summaries of cases that have ended, and are not open again, in step with the record.</summary>
public static class AuditSummaries
{
    /// <summary>Adds the statements that write the summary of a case over what there was, and take it away where the case was opened again.</summary>
    /// <param name="db">The record.</param>
    /// <param name="surgicalCase">The case, with everything recorded in it.</param>
    /// <param name="statements">The statements.</param>
    internal static void AddSummaryOf(this ClinicContext db, SurgicalCase surgicalCase, Statements statements)
    {
        // Only a case that had ended before may have a summary, and more stages in it than now.
        if (surgicalCase.Endings.Any(ending => ending.Reopened is not null))
        {
            AddRemoval(surgicalCase, statements);
        }

        if (surgicalCase.Ending is null)
        {
            return;
        }

        var (row, stages) = AuditCase.Of(surgicalCase);
        statements.Add(TableSql.Of<AuditCase>(db).Upsert(row));
        foreach (var stage in stages)
        {
            statements.Add(TableSql.Of<AuditStage>(db).Upsert(stage));
        }
    }

    private static void AddRemoval(SurgicalCase surgicalCase, Statements statements)
    {
        statements.Add($"DELETE FROM audit_stages WHERE clinic_id = {surgicalCase.ClinicId} AND case_id = {surgicalCase.Id}");
        statements.Add($"DELETE FROM audit_cases WHERE clinic_id = {surgicalCase.ClinicId} AND case_id = {surgicalCase.Id}");
    }

    /// <summary>True where the summary of a case is the one that its record gives.</summary>
    /// <param name="db">The record.</param>
    /// <param name="surgicalCase">The case, with everything recorded in it.</param>
    /// <param name="cancel">Ends the wait.</param>
    public static async Task<bool> SummaryFollowsAsync(this ClinicContext db, SurgicalCase surgicalCase, CancellationToken cancel)
    {
        var kept = await db.AuditCases.AsNoTracking().SingleOrDefaultAsync(row => row.CaseId == surgicalCase.Id, cancel);
        var keptStages = await db.AuditStages.AsNoTracking().Where(stage => stage.CaseId == surgicalCase.Id).OrderBy(stage => stage.StageNumber).ToListAsync(cancel);
        if (surgicalCase.Ending is null)
        {
            return kept is null && keptStages.Count == 0;
        }

        var (row, stages) = AuditCase.Of(surgicalCase);
        return kept is not null && db.IsSame(kept, row)
            && keptStages.Count == stages.Count && keptStages.Zip(stages).All(pair => db.IsSame(pair.First, pair.Second));
    }

    /// <summary>Makes the summaries of a clinic again where they are missing or wrong.</summary>
    /// <param name="db">The record, with the clinic in scope.</param>
    /// <param name="onlyMissing">True where those that are there are trusted.</param>
    /// <param name="cancel">Ends the wait.</param>
    /// <returns>How many were made again.</returns>
    public static async Task<int> RebuildSummariesAsync(this ClinicContext db, bool onlyMissing, CancellationToken cancel)
    {
        var missing = db.Cases.Where(c => c.Outcome != null && !db.AuditCases.Any(row => row.CaseId == c.CaseId));
        var any = db.Cases.Where(c => c.Outcome != null || db.AuditCases.Any(row => row.CaseId == c.CaseId));
        var ids = await (onlyMissing ? missing : any).Select(c => c.CaseId).ToListAsync(cancel);
        var made = 0;
        foreach (var id in ids)
        {
            db.ChangeTracker.Clear();
            var surgicalCase = (await db.FindCaseAsync(id, cancel))!;
            if (!await db.SummaryFollowsAsync(surgicalCase, cancel))
            {
                var statements = new Statements(db);
                AddRemoval(surgicalCase, statements);
                db.AddSummaryOf(surgicalCase, statements);
                await statements.ExecuteAsync(cancel);
                made++;
            }
        }

        return made;
    }
}
