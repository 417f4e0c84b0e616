using System.Linq.Expressions;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Storage;
using StagedMargins.Storage.Audit;
using StagedMargins.Storage.Clinics;
using StagedMargins.Web.Contract;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.Audit;

/// <summary>Lets the database count, on both engines by the same queries; what comes back does not grow with the number of cases.</summary>
/// <param name="db">The record, with the clinic in scope.</param>
/// <param name="clinic">The clinic.</param>
public sealed class AuditReader(ClinicContext db, Clinic clinic)
{
    /// <summary>The key of cases for which the grouping field is not known.</summary>
    public const string NotStated = "notStated";

    internal const long Um2PerCm2 = 100_000_000;

    /// <summary>The tallies of a period by group; without a grouping, one under an empty key.</summary>
    /// <param name="period">The period.</param>
    /// <param name="grouping">By what.</param>
    /// <param name="surgeonId">Only this surgeon's cases, or null for all.</param>
    /// <param name="people">The clinic's people, whose addresses are the keys of surgeons.</param>
    /// <param name="cancel">Ends the wait.</param>
    public async Task<SortedDictionary<string, AuditAggregate>> ReadAsync(AuditPeriod period, AuditGrouping? grouping, Guid? surgeonId, ClinicPeople people, CancellationToken cancel)
    {
        var cases = period.Filter(db.AuditCases.AsNoTracking(), clinic);
        if (surgeonId is { } own)
        {
            cases = cases.Where(c => c.SurgeonId == own);
        }

        return grouping switch
        {
            AuditGrouping.Surgeon => await TallyAsync(cases, c => c.SurgeonId, id => people.EmailOf(id) ?? NotStated, cancel),
            AuditGrouping.AreaClass => await TallyAsync(cases, c => c.AreaClass, area => area ?? NotStated, cancel),
            AuditGrouping.Tumour => await TallyAsync(cases, c => c.Tumour, tumour => tumour, cancel),
            AuditGrouping.SizeBand => await TallyAsync(cases, c => c.SizeBand, band => band, cancel),
            AuditGrouping.Month => await MonthsAsync(cases, cancel),
            _ => await TallyAsync(cases, c => c.ClinicId, _ => "", cancel),
        };
    }

    // Month by month from the first that has a case, so that each is cut by the clock of the clinic and empty ones cost nothing.
    private async Task<SortedDictionary<string, AuditAggregate>> MonthsAsync(IQueryable<AuditCase> cases, CancellationToken cancel)
    {
        var months = new SortedDictionary<string, AuditAggregate>(StringComparer.Ordinal);
        var next = await cases.MinAsync(c => (DateTime?)c.EndedUtc, cancel);
        while (next is { } utc)
        {
            var day = clinic.DayOf(utc);
            var month = AuditPeriod.OfMonth(new DateOnly(day.Year, day.Month, 1));
            var tally = await TallyAsync(month.Filter(cases, clinic), c => c.ClinicId, _ => "", cancel);
            months[DayFields.MonthOf(day)] = tally[""];
            var end = clinic.StartOf(month.To!.Value.AddDays(1));
            next = await cases.Where(c => c.EndedUtc >= end).MinAsync(c => (DateTime?)c.EndedUtc, cancel);
        }

        return months;
    }

    private async Task<SortedDictionary<string, AuditAggregate>> TallyAsync<TKey>(
        IQueryable<AuditCase> cases, Expression<Func<AuditCase, TKey>> key, Func<TKey, string> name, CancellationToken cancel)
    {
        var keyed = cases.Select(Keyed(key));
        var tallies = new SortedDictionary<string, AuditAggregate>(StringComparer.Ordinal);
        foreach (var row in await Counted(keyed).ToListAsync(cancel))
        {
            Of(name(row.Key)).Add(row.Stages, row.ClearedStage, row.Outcome, row.Sums);
        }

        var times = from stage in db.AuditStages
                    join treated in keyed on new { stage.ClinicId, stage.CaseId } equals new { treated.Case.ClinicId, treated.Case.CaseId }
                    where stage.TurnaroundMinutes != null
                    group stage by new { treated.Key, Minutes = stage.TurnaroundMinutes!.Value } into alike
                    select new { alike.Key.Key, alike.Key.Minutes, Count = alike.LongCount() };
        foreach (var row in await times.ToListAsync(cancel))
        {
            Of(name(row.Key)).Turnaround.Add(row.Minutes, row.Count);
        }

        return tallies;

        AuditAggregate Of(string at) => tallies.TryGetValue(at, out var known) ? known : tallies[at] = new AuditAggregate();
    }

    private static IQueryable<GroupRow<TKey>> Counted<TKey>(IQueryable<KeyedCase<TKey>> cases) =>
        from row in cases
        group row.Case by new { row.Key, row.Case.Stages, row.Case.ClearedStage, row.Case.Outcome } into alike
        select new GroupRow<TKey>
        {
            Key = alike.Key.Key,
            Stages = alike.Key.Stages,
            ClearedStage = alike.Key.ClearedStage,
            Outcome = alike.Key.Outcome,
            Sums = new AuditSums
            {
                Cases = alike.LongCount(),
                Blocks = alike.Sum(c => (long)c.Blocks),
                Readings = alike.Sum(c => (long)c.Readings),
                Unreadable = alike.Sum(c => (long)c.Unreadable),
                Amendments = alike.Sum(c => (long)c.Amendments),
                Recuts = alike.Sum(c => (long)c.Recuts),
                NotSeen = alike.Sum(c => (long)c.NotSeen),
                Withdrawn = alike.Sum(c => (long)c.Withdrawn),
                Corrections = alike.Sum(c => (long)c.Corrections),
                Reopenings = alike.Sum(c => (long)c.Reopenings),
                ReviewsOpen = alike.Sum(c => (long)c.ReviewsOpen),
                ReviewsAnswered = alike.Sum(c => (long)c.ReviewsAnswered),
                Recalls = alike.Sum(c => (long)c.Recall),
                Defects = alike.LongCount(c => c.DefectUm2 != null),
                DefectUm2 = alike.Sum(c => c.DefectUm2 ?? 0),
                DefectsUnder1 = alike.LongCount(c => c.DefectUm2 < Um2PerCm2),
                DefectsUnder4 = alike.LongCount(c => c.DefectUm2 < 4 * Um2PerCm2),
                DefectsUnder10 = alike.LongCount(c => c.DefectUm2 < 10 * Um2PerCm2),
                Grown = alike.LongCount(c => c.DefectUm2 != null && c.LesionUm2 > 0),
                Growth = alike.Sum(c => c.DefectUm2 != null && c.LesionUm2 > 0 ? (double)c.DefectUm2 / (double)c.LesionUm2 : 0.0),
                SparedCases = alike.LongCount(c => c.SparedUm2 != null),
                SparedUm2 = alike.Sum(c => c.SparedUm2 ?? 0),
                PairsBothClear = alike.Sum(c => (long)c.PairsBothClear),
                PairsBothTumour = alike.Sum(c => (long)c.PairsBothTumour),
                PairsTumourThenClear = alike.Sum(c => (long)c.PairsTumourThenClear),
                PairsClearThenTumour = alike.Sum(c => (long)c.PairsClearThenTumour),
                PairsNotComparable = alike.Sum(c => (long)c.PairsNotComparable),
            },
        };

    private static Expression<Func<AuditCase, KeyedCase<TKey>>> Keyed<TKey>(Expression<Func<AuditCase, TKey>> key) => Expression.Lambda<Func<AuditCase, KeyedCase<TKey>>>(
        Expression.MemberInit(
            Expression.New(typeof(KeyedCase<TKey>)),
            Expression.Bind(typeof(KeyedCase<TKey>).GetProperty(nameof(KeyedCase<TKey>.Key))!, key.Body),
            Expression.Bind(typeof(KeyedCase<TKey>).GetProperty(nameof(KeyedCase<TKey>.Case))!, key.Parameters[0])),
        key.Parameters);

    private sealed class KeyedCase<TKey>
    {
        public TKey Key { get; init; } = default!;

        public AuditCase Case { get; init; } = null!;
    }

    private sealed class GroupRow<TKey>
    {
        public TKey Key { get; init; } = default!;

        public int Stages { get; init; }

        public int? ClearedStage { get; init; }

        public Core.Mapping.CaseOutcome Outcome { get; init; }

        public AuditSums Sums { get; init; } = null!;
    }
}
