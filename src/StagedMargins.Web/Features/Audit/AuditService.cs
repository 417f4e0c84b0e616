using Microsoft.EntityFrameworkCore;
using StagedMargins.Core.Audit;
using StagedMargins.Storage;
using StagedMargins.Storage.Clinics;
using StagedMargins.Web.Contract;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.Audit;

/// <summary>The audit as whoever asks may see it: a manager all of it, a surgeon their own figures beside the clinic's.</summary>
/// <param name="db">The record.</param>
public sealed class AuditService(ClinicContext db)
{
    /// <summary>The audit of a period.</summary>
    public Task<AuditView> FiguresAsync(AuditPeriod period, AuditGrouping? grouping, CurrentPerson person, CancellationToken cancel) =>
        db.InReadSnapshotAsync(() => ReadAsync(period, grouping, person, cancel), cancel);

    private async Task<AuditView> ReadAsync(AuditPeriod period, AuditGrouping? grouping, CurrentPerson person, CancellationToken cancel)
    {
        var (reader, people) = await ReaderAsync(person, cancel);
        period = await BoundedAsync(period, cancel);
        var own = person.FiguresLimitedTo;
        var tallies = await reader.ReadAsync(period, grouping, own, people, cancel);
        var whole = own is null ? null : Total(await reader.ReadAsync(period, null, null, people, cancel));
        var total = Total(tallies);
        var limits = FunnelLimits.Of((whole ?? total).Stages);
        var groups = grouping is null ? [] : tallies.Select(tally => new GroupView(tally.Key, tally.Value, limits)).OrderBy(group => grouping != AuditGrouping.Month && group.SmallGroup).ToList();
        return new AuditView(period, total, whole, groups) { MonthLimits = grouping == AuditGrouping.Month ? RateChart.AllOf(groups) : [] };
    }

    /// <summary>The same period; a month that was closed lies where it lay then, whatever time zone the clinic has chosen since.</summary>
    public async Task<AuditPeriod> BoundedAsync(AuditPeriod period, CancellationToken cancel)
    {
        var month = period.IsMonth ? DayFields.MonthOf(period.From!.Value) : null;
        var kept = month is null ? null : await db.MonthClosings.AsNoTracking().Where(closing => closing.Month == month).Select(closing => new { From = closing.From.Utc, To = closing.To.Utc }).SingleOrDefaultAsync(cancel);
        return kept is null ? period : period with { KeptBounds = (kept.From, kept.To) };
    }

    /// <summary>The clinic of someone.</summary>
    public Task<Clinic> ClinicAsync(CurrentPerson person, CancellationToken cancel) => db.Clinics.SingleAsync(c => c.Id == person.ClinicId, cancel);

    private async Task<(AuditReader Reader, ClinicPeople People)> ReaderAsync(CurrentPerson person, CancellationToken cancel) =>
        (new AuditReader(db.AllowLongReads(), await ClinicAsync(person, cancel)), await ClinicPeople.LoadAsync(db, person.ClinicId, cancel));

    private static AuditAggregate Total(SortedDictionary<string, AuditAggregate> tallies) =>
        tallies.Values.Aggregate(new AuditAggregate(), (sum, tally) => sum.Plus(tally));
}
