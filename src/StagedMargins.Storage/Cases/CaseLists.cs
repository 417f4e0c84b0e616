using Microsoft.EntityFrameworkCore;
using StagedMargins.Core.Entries;
using StagedMargins.Core.Mapping;
using StagedMargins.Storage.Audit;

namespace StagedMargins.Storage.Cases;

/// <summary>Keeps what lists are made from in step with the entries of cases, and reads it.</summary>
public static class CaseLists
{
    /// <summary>The cases that someone may see: all but those in which they are still to read a block blind.</summary>
    public static IQueryable<CaseRow> CasesSeenBy(this ClinicContext db, Guid personId) => db.Cases.AsNoTracking()
        .Where(c => !db.SecondReads.Any(read => read.CaseId == c.CaseId && read.ReaderId == personId && !read.IsAnswered));

    /// <summary>Every open case that someone may see, longest open first.</summary>
    public static async Task<LoadedCases> OpenCasesAsync(this ClinicContext db, Guid personId, CancellationToken cancel) => await db.LoadCasesAsync(
        await db.CasesSeenBy(personId).Where(c => c.Outcome == null).OrderBy(c => c.OpenedAt.Utc).Select(c => c.CaseId).ToListAsync(cancel), cancel);

    /// <summary>Adds the statements that write everything computed from a case over what there was.</summary>
    /// <param name="db">The record.</param>
    /// <param name="changed">The case, changed.</param>
    /// <param name="subject">The case with its data key.</param>
    /// <param name="changedUtc">When its last entry is written, UTC.</param>
    /// <param name="statements">The statements.</param>
    internal static void AddRowsOf(this ClinicContext db, SurgicalCase changed, SubjectKey subject, DateTime changedUtc, Statements statements)
    {
        statements.Add(TableSql.Of<CaseRow>(db).Upsert(CaseRow.Of(changed, subject, changedUtc)));
        foreach (var row in SecondReadRow.AllOf(changed))
        {
            statements.Add(TableSql.Of<SecondReadRow>(db).Upsert(row));
        }

        db.AddSummaryOf(changed, statements);
    }

    /// <summary>True where the rows of a case are those that its entries give.</summary>
    public static async Task<bool> ListsFollowAsync(this ClinicContext db, SurgicalCase surgicalCase, SubjectKey subject, CancellationToken cancel)
    {
        var kept = await db.Cases.AsNoTracking().SingleOrDefaultAsync(row => row.CaseId == surgicalCase.Id, cancel);
        var reads = await db.SecondReads.AsNoTracking().Where(row => row.CaseId == surgicalCase.Id).OrderBy(row => row.Number).ToListAsync(cancel);
        var expected = SecondReadRow.AllOf(surgicalCase).ToList();
        return kept is not null
            && CaseRow.Of(surgicalCase, subject, kept.ChangedUtc) is var made && db.IsSame(kept, made) && kept.SaysTheSameAs(made, subject)
            && reads.Count == expected.Count && reads.Zip(expected).All(pair => db.IsSame(pair.First, pair.Second));
    }

    /// <summary>True where two computed rows say the same, apart from what is encrypted.</summary>
    internal static bool IsSame<T>(this ClinicContext db, T kept, T row)
        where T : class
    {
        var type = db.Model.FindEntityType(typeof(T))!;
        return type.GetProperties().Where(property => property.ClrType != typeof(byte[])).Select(property => property.PropertyInfo!)
            .Concat(type.GetComplexProperties().Select(property => property.PropertyInfo!))
            .All(property => Equals(property.GetValue(kept), property.GetValue(row)));
    }
}
