using System.Globalization;
using Microsoft.AspNetCore.Mvc;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Core;
using StagedMargins.Core.Mapping;
using StagedMargins.Storage;
using StagedMargins.Storage.Audit;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.Audit;

/// <summary>The cases behind a figure.</summary>
/// <param name="From">As for the audit.</param>
/// <param name="To">As for the audit.</param>
/// <param name="GroupBy">As for the audit.</param>
/// <param name="Key">The group's key; needs groupBy.</param>
/// <param name="Figure">Which figure; all cases where absent.</param>
/// <param name="After">The last number of the page before.</param>
public sealed record AuditCasesQuery(
    [FromQuery] string? From, [FromQuery] string? To, [FromQuery] string? GroupBy, [FromQuery] string? Key, [FromQuery] string? Figure, [FromQuery] string? After);

/// <summary>Case numbers behind a figure, and nothing else of the cases.</summary>
/// <param name="CaseNumbers">In order.</param>
/// <param name="Next">What to send as <c>after</c> for the next page; null at the end.</param>
public sealed record AuditCasesView(IReadOnlyList<string> CaseNumbers, string? Next);

/// <summary>Lists the numbers of the cases behind a figure.</summary>
/// <param name="db">The record.</param>
/// <param name="audit">Whose cases someone may see.</param>
public sealed class AuditCaseList(ClinicContext db, AuditService audit)
{
    private const int Limit = 200;

    private static readonly Dictionary<string, Func<IQueryable<AuditCase>, IQueryable<AuditCase>>> Figures = new()
    {
        ["stages1"] = cases => cases.Where(c => c.Stages == 1),
        ["stages2"] = cases => cases.Where(c => c.Stages == 2),
        ["stages3"] = cases => cases.Where(c => c.Stages == 3),
        ["stages4"] = cases => cases.Where(c => c.Stages == 4),
        ["stages5+"] = cases => cases.Where(c => c.Stages >= 5),
        ["cleared"] = cases => cases.Where(c => c.Stages > 0 && c.Outcome == CaseOutcome.Cleared),
        ["stoppedWithTumour"] = cases => cases.Where(c => c.Stages > 0 && c.Outcome == CaseOutcome.StoppedWithTumour),
        ["stoppedNotCleared"] = cases => cases.Where(c => c.Stages > 0 && c.Outcome == CaseOutcome.StoppedNotCleared),
        ["notDone"] = cases => cases.Where(c => c.Outcome == CaseOutcome.NotDone),
        ["unreadable"] = cases => cases.Where(c => c.Unreadable > 0),
        ["amendments"] = cases => cases.Where(c => c.Amendments > 0),
        ["notSeen"] = cases => cases.Where(c => c.NotSeen > 0),
        ["readingsWithdrawn"] = cases => cases.Where(c => c.Withdrawn > 0),
        ["corrections"] = cases => cases.Where(c => c.Stages > 0 && c.Corrections > 0),
        ["reopenings"] = cases => cases.Where(c => c.Stages > 0 && c.Reopenings > 0),
        ["reviewsOpen"] = cases => cases.Where(c => c.Stages > 0 && c.ReviewsOpen > 0),
        ["reviewsAnswered"] = cases => cases.Where(c => c.Stages > 0 && c.ReviewsAnswered > 0),
        ["recalls"] = cases => cases.Where(c => c.Recall > 0),
        ["withoutLayer"] = cases => cases.Where(c => c.Stages == 0),
        ["readTwice"] = cases => cases.Where(c => c.PairsBothClear + c.PairsBothTumour + c.PairsTumourThenClear + c.PairsClearThenTumour + c.PairsNotComparable > 0),
        ["defects"] = cases => cases.Where(c => c.DefectUm2 != null),
        ["under1Cm2"] = cases => cases.Where(c => c.DefectUm2 < AuditReader.Um2PerCm2),
        ["from1Cm2"] = cases => cases.Where(c => c.DefectUm2 >= AuditReader.Um2PerCm2 && c.DefectUm2 < 4 * AuditReader.Um2PerCm2),
        ["from4Cm2"] = cases => cases.Where(c => c.DefectUm2 >= 4 * AuditReader.Um2PerCm2 && c.DefectUm2 < 10 * AuditReader.Um2PerCm2),
        ["from10Cm2"] = cases => cases.Where(c => c.DefectUm2 >= 10 * AuditReader.Um2PerCm2),
        ["grown"] = cases => cases.Where(c => c.DefectUm2 != null && c.LesionUm2 > 0),
        ["spared"] = cases => cases.Where(c => c.SparedUm2 != null),
    };

    /// <summary>A page of numbers.</summary>
    /// <exception cref="InvalidEntryException">Something of the query can't be read.</exception>
    public async Task<AuditCasesView> FindAsync(AuditCasesQuery query, CurrentPerson person, CancellationToken cancel)
    {
        var clinic = await audit.ClinicAsync(person, cancel);
        var cases = AuditPeriod.FromQuery(new AuditQuery(query.From, query.To, null)).Filter(db.AuditCases.AsNoTracking(), clinic);
        if (person.FiguresLimitedTo is { } own)
        {
            cases = cases.Where(c => c.SurgeonId == own);
        }

        if (AuditPeriod.Grouping(query.GroupBy) is { } grouping && FreeText.Optional("key", query.Key, FreeText.LongestShort) is { } key)
        {
            cases = grouping == AuditGrouping.Month
                ? AuditPeriod.OfMonth(key).Filter(cases, clinic)
                : InGroup(cases, grouping, key, await ClinicPeople.LoadAsync(db, person.ClinicId, cancel));
        }

        cases = query.Figure is not { Length: > 0 } figure ? cases.Where(c => c.Stages > 0)
            : figure == "timed" ? cases.Where(c => db.AuditStages.Any(stage => stage.CaseId == c.CaseId && stage.TurnaroundMinutes != null))
            : ClearedBy(figure) is { } by ? cases.Where(c => c.ClearedStage <= by)
            : Figures.TryGetValue(figure, out var behind) ? behind(cases)
            : throw new InvalidEntryException("figure", $"One of {string.Join(", ", Figures.Keys)}, timed, clearedBy1, clearedBy2 and so on.");

        if (FreeText.Optional("after", query.After, FreeText.LongestShort) is { } after)
        {
            // Translated to SQL: the database compares as it sorts.
#pragma warning disable CA1309
            cases = cases.Where(c => string.Compare(c.CaseNumber, after) > 0);
#pragma warning restore CA1309
        }

        var numbers = await cases.OrderBy(c => c.CaseNumber).Select(c => c.CaseNumber).Take(Limit + 1).ToListAsync(cancel);
        return new AuditCasesView([.. numbers.Take(Limit)], numbers.Count > Limit ? numbers[Limit - 1] : null);
    }

    // clearedBy3: cleared at stage 3 or before.
    private static int? ClearedBy(string figure) =>
        figure.StartsWith("clearedBy", StringComparison.Ordinal) && int.TryParse(figure["clearedBy".Length..], NumberStyles.None, CultureInfo.InvariantCulture, out var stage) ? stage : null;

    private static IQueryable<AuditCase> InGroup(IQueryable<AuditCase> cases, AuditGrouping grouping, string key, ClinicPeople people)
    {
        var isStated = key != AuditReader.NotStated;
        switch (grouping)
        {
            case AuditGrouping.Surgeon:
                Guid? surgeon = isStated ? people.IdOf(key) ?? throw new InvalidEntryException("key", "Not the e-mail address of anyone in this clinic.") : null;
                return cases.Where(c => c.SurgeonId == surgeon);
            case AuditGrouping.AreaClass:
                var area = isStated ? key : null;
                return cases.Where(c => c.AreaClass == area);
            case AuditGrouping.Tumour:
                return cases.Where(c => c.Tumour == key);
            default:
                return cases.Where(c => c.SizeBand == key);
        }
    }
}
