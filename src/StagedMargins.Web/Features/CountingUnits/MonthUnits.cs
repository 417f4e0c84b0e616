using Microsoft.EntityFrameworkCore;
using StagedMargins.Core;
using StagedMargins.Core.CountingUnits;
using StagedMargins.Storage;
using StagedMargins.Storage.Cases;
using StagedMargins.Storage.Clinics;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Contract;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.CountingUnits;

/// <summary>The counting units of the cases that ended in a month, as whoever asks may see them: a manager all, a surgeon their own.</summary>
/// <param name="db">The record.</param>
public sealed class MonthUnits(ClinicContext db)
{
    /// <summary>Counts them.</summary>
    /// <param name="month">The month, yyyy-MM, in the clinic's time zone.</param>
    /// <param name="person">Who asks.</param>
    /// <param name="table">The clinic's codes, where it has any.</param>
    /// <param name="cancel">Ends the work.</param>
    /// <exception cref="InvalidEntryException">It is not a month.</exception>
    public async Task<MonthUnitsView> CountAsync(string month, CurrentPerson person, CodeTable? table, CancellationToken cancel)
    {
        var first = DayFields.FirstOfMonth(month);
        var clinic = await db.AllowLongReads().Clinics.SingleAsync(c => c.Id == person.ClinicId, cancel);
        var (from, to) = (clinic.StartOf(first), clinic.StartOf(first.AddMonths(1)));
        var cases = db.CasesSeenBy(person.Id).Where(c => c.EndedUtc >= from && c.EndedUtc < to);
        if (person.FiguresLimitedTo is { } own)
        {
            cases = cases.Where(c => c.SurgeonId == own);
        }

        var ended = (await db.LoadCasesAsync(await cases.OrderBy(c => c.CaseNumber).Select(c => c.CaseId).ToListAsync(cancel), cancel)).All;
        CaseUnitsView[] views = [.. ended.Select(c => CaseUnitsView.Of(c, table))];
        return new MonthUnitsView(month, views, views.Count(view => view.RegionGroup is null));
    }
}
