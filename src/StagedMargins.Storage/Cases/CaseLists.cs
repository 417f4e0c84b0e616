using Microsoft.EntityFrameworkCore;
using StagedMargins.Core.Entries;
using StagedMargins.Core.Mapping;

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

    /// <summary>Follows a change of a case, in the same unit of work; saves nothing.</summary>
    /// <param name="db">The record.</param>
    /// <param name="changed">The case, changed.</param>
    /// <param name="subject">The case with its data key.</param>
    /// <param name="changedUtc">When its last entry is written, UTC.</param>
    /// <param name="cancel">Ends the wait.</param>
    public static async Task UpdateListsAsync(this ClinicContext db, SurgicalCase changed, SubjectKey subject, DateTime changedUtc, CancellationToken cancel)
    {
        await db.PutAsync(await db.Cases.FindAsync([changed.ClinicId, changed.Id], cancel), CaseRow.Of(changed, subject, changedUtc));
        if (changed.SecondReads.Count > 0)
        {
            var kept = await db.SecondReads.Where(row => row.CaseId == changed.Id).ToDictionaryAsync(row => row.Number, cancel);
            foreach (var row in SecondReadRow.AllOf(changed))
            {
                await db.PutAsync(kept.GetValueOrDefault(row.Number), row);
            }
        }
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

    /// <summary>Writes a computed row over the one that is kept, or adds it.</summary>
    internal static async Task PutAsync<T>(this ClinicContext db, T? kept, T row)
        where T : class
    {
        if (kept is null)
        {
            await db.AddAsync(row);
        }
        else
        {
            db.Entry(kept).CurrentValues.SetValues(row);
        }
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
