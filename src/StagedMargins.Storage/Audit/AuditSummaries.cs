using Microsoft.EntityFrameworkCore;
using StagedMargins.Core.Mapping;
using StagedMargins.Storage.Cases;

namespace StagedMargins.Storage.Audit;

/// <summary>Keeps the summaries of ended cases in step with the record.</summary>
public static class AuditSummaries
{
    /// <summary>Adds the statements that write the summary of an ended case over what there was.</summary>
    /// <param name="db">The record.</param>
    /// <param name="ended">The case, with everything recorded in it.</param>
    /// <param name="statements">The statements.</param>
    internal static void AddSummaryOf(this ClinicContext db, SurgicalCase ended, Statements statements)
    {
        var (row, stages) = AuditCase.Of(ended);
        statements.Add(TableSql.Of<AuditCase>(db).Upsert(row));
        foreach (var stage in stages)
        {
            statements.Add(TableSql.Of<AuditStage>(db).Upsert(stage));
        }
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
        var ended = db.Cases.Where(c => c.Outcome != null);
        var ids = await (onlyMissing ? ended.Where(c => !db.AuditCases.Any(row => row.CaseId == c.CaseId)) : ended).Select(c => c.CaseId).ToListAsync(cancel);
        var made = 0;
        foreach (var id in ids)
        {
            db.ChangeTracker.Clear();
            var surgicalCase = (await db.FindCaseAsync(id, cancel))!;
            if (!await db.SummaryFollowsAsync(surgicalCase, cancel))
            {
                var statements = new Statements(db);
                db.AddSummaryOf(surgicalCase, statements);
                await statements.ExecuteAsync(cancel);
                made++;
            }
        }

        return made;
    }
}
