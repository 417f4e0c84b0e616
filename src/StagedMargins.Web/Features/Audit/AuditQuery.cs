using Microsoft.AspNetCore.Mvc;
using StagedMargins.Core;
using StagedMargins.Storage.Audit;
using StagedMargins.Storage.Clinics;
using StagedMargins.Web.Contract;

namespace StagedMargins.Web.Features.Audit;

/// <summary>By what cases are put into groups.</summary>
public enum AuditGrouping
{
    /// <summary>The surgeon.</summary>
    Surgeon,

    /// <summary>The area class.</summary>
    AreaClass,

    /// <summary>The tumour's group.</summary>
    Tumour,

    /// <summary>The lesion's size before surgery.</summary>
    SizeBand,

    /// <summary>The month in which a case ended.</summary>
    Month,
}

/// <summary>What the audit is asked for.</summary>
/// <param name="From">Ended on this day or later, in the clinic's time zone; a month stands for its first day. All before where absent.</param>
/// <param name="To">Ended on this day or earlier; a month stands for its last day. All after where absent.</param>
/// <param name="GroupBy">surgeon, areaClass, tumour, sizeBand or month.</param>
public sealed record AuditQuery([FromQuery] string? From, [FromQuery] string? To, [FromQuery] string? GroupBy);

/// <summary>A span of days of a clinic, both included; null is open.</summary>
/// <param name="From">The first day.</param>
/// <param name="To">The last day.</param>
public sealed record AuditPeriod(DateOnly? From, DateOnly? To)
{
    /// <summary>The moments between which a closed month lies, UTC, as they were kept; null where the clinic's present time zone says.</summary>
    public (DateTime From, DateTime To)? KeptBounds { get; init; }

    /// <summary>The period of a query.</summary>
    /// <exception cref="InvalidEntryException">A field can't be read, or it ends before it begins.</exception>
    public static AuditPeriod FromQuery(AuditQuery query)
    {
        var period = new AuditPeriod(Day("from", query.From, isLast: false), Day("to", query.To, isLast: true));
        return period is { From: { } from, To: { } to } && to < from
            ? throw new InvalidEntryException("to", "The period ends before it begins.")
            : period;
    }

    /// <summary>A month.</summary>
    /// <param name="month">As <c>yyyy-MM</c>.</param>
    /// <exception cref="InvalidEntryException">Not one.</exception>
    public static AuditPeriod OfMonth(string? month) => OfMonth(DayFields.FirstOfMonth(month));

    /// <summary>The month that begins with a day.</summary>
    public static AuditPeriod OfMonth(DateOnly first) => new(first, first.AddMonths(1).AddDays(-1));

    /// <summary>True where it is one whole month.</summary>
    public bool IsMonth => From is { Day: 1 } from && To == OfMonth(from).To;

    /// <summary>The way to group, or null where none is asked for.</summary>
    /// <exception cref="InvalidEntryException">Not one of the words.</exception>
    public static AuditGrouping? Grouping(string? word) => word switch
    {
        null or "" => null,
        _ when EnumNames<AuditGrouping>.TryParse(word, out var grouping) => grouping,
        _ => throw new InvalidEntryException("groupBy", $"One of {string.Join(", ", EnumNames<AuditGrouping>.All)}."),
    };

    /// <summary>The cases that ended in it.</summary>
    public IQueryable<AuditCase> Filter(IQueryable<AuditCase> cases, Clinic clinic)
    {
        if (KeptBounds is { } kept)
        {
            return cases.Where(c => c.EndedUtc >= kept.From && c.EndedUtc < kept.To);
        }

        if (From is { } from)
        {
            var start = clinic.StartOf(from);
            cases = cases.Where(c => c.EndedUtc >= start);
        }

        if (To is { } to)
        {
            var end = clinic.StartOf(to.AddDays(1));
            cases = cases.Where(c => c.EndedUtc < end);
        }

        return cases;
    }

    private static DateOnly? Day(string field, string? text, bool isLast) => text switch
    {
        null or "" => null,
        _ when DayFields.TryMonth(text, out var month) => isLast ? month.AddMonths(1).AddDays(-1) : month,
        _ when DayFields.TryDay(text, out var day) => day,
        _ => throw new InvalidEntryException(field, "A day, for example 2026-03-03, or a month, for example 2026-03."),
    };
}
