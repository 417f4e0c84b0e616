using System.Buffers.Text;
using System.Globalization;
using System.Text;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Core;
using StagedMargins.Core.Entries;
using StagedMargins.Core.Mapping;
using StagedMargins.Storage;
using StagedMargins.Storage.Cases;
using StagedMargins.Storage.Clinics;
using StagedMargins.Web.Contract;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.Cases;

/// <summary>A case in a list.</summary>
/// <param name="Id">Its number in the service.</param>
/// <param name="CaseNumber">Its number in the clinic.</param>
/// <param name="PatientRef">The clinic's number for the patient.</param>
/// <param name="SurgeonEmail">The surgeon.</param>
/// <param name="Status">Open or ended.</param>
/// <param name="Outcome">How it ended.</param>
/// <param name="Recall">True once an amendment made a cleared case not clear.</param>
/// <param name="State">Where its margins stand.</param>
/// <param name="UnsignedReadings">How many readings that count lack their reader's signature.</param>
/// <param name="OpenReviews">How many reviews nobody has answered.</param>
/// <param name="StageCount">Stages recorded.</param>
/// <param name="Site">Where the tumour is.</param>
/// <param name="OpenedAt">When it was opened.</param>
public sealed record CaseListItem(
    Guid Id,
    string CaseNumber,
    string PatientRef,
    string? SurgeonEmail,
    CaseStatus Status,
    CaseOutcome? Outcome,
    bool Recall,
    CaseState State,
    int UnsignedReadings,
    int OpenReviews,
    int StageCount,
    SiteBody Site,
    DateTimeOffset OpenedAt);

/// <summary>A page of cases, newest first.</summary>
/// <param name="Items">The cases.</param>
/// <param name="Next">What to send as <c>cursor</c> for the next page; null at the end.</param>
public sealed record CaseListPage(IReadOnlyList<CaseListItem> Items, string? Next);

/// <summary>What a list is asked for. No field takes a patient reference: addresses are written to logs on their way.</summary>
/// <param name="Status">open or ended.</param>
/// <param name="From">Opened on this day or later, in the clinic's time zone.</param>
/// <param name="To">Opened on this day or earlier.</param>
/// <param name="Surgeon">The surgeon's address.</param>
/// <param name="Site">The site's code, or how it begins.</param>
/// <param name="Q">Part of the case number.</param>
/// <param name="Cursor">Where the page before ended.</param>
/// <param name="Limit">Cases of a page, 1 to 200; 50 where absent.</param>
public sealed record CaseListQuery(string? Status, string? From, string? To, string? Surgeon, string? Site, string? Q, string? Cursor, int? Limit);

/// <summary>Lists of cases.</summary>
public static class CaseList
{
    private const int UsualLimit = 50;
    private const int MostLimit = 200;

    /// <summary>Adds the route.</summary>
    public static void MapCaseList(this IEndpointRouteBuilder cases) => cases
        .MapGet("/", ListAsync).RequireAuthorization(Policies.SeeCase).WithTags("Cases")
        .WithSummary("Cases of the clinic, newest first.").Produces<CaseListPage>();

    private static async Task<IResult> ListAsync([AsParameters] CaseListQuery query, CurrentPerson person, ClinicContext db, CancellationToken cancel) =>
        Results.Ok(await FindAsync(query, person, db, cancel));

    /// <summary>A page of cases.</summary>
    /// <exception cref="InvalidEntryException">Something of the query can't be read.</exception>
    public static async Task<CaseListPage> FindAsync(CaseListQuery query, CurrentPerson person, ClinicContext db, CancellationToken cancel)
    {
        var limit = query.Limit ?? UsualLimit;
        if (limit is < 1 or > MostLimit)
        {
            throw new InvalidEntryException("limit", $"1 to {MostLimit}.");
        }

        var clinic = await db.Clinics.SingleAsync(c => c.Id == person.ClinicId, cancel);
        var people = await ClinicPeople.LoadAsync(db, person.ClinicId, cancel);
        var cases = await Select(db.CasesSeenBy(person.Id), query, clinic, people)
            .OrderByDescending(c => c.OpenedAt.Utc).ThenByDescending(c => c.CaseNumber)
            .Take(limit + 1)
            .ToListAsync(cancel);
        var page = cases.Take(limit).ToList();
        var subjects = await db.Keys.OfCasesAsync(db, person.ClinicId, [.. page.Select(c => c.CaseId)], cancel);
        return new CaseListPage([.. page.Select(c => Item(c, people, subjects[c.CaseId]))], cases.Count > limit ? CursorAfter(page[^1]) : null);
    }

    private static IQueryable<CaseRow> Select(IQueryable<CaseRow> cases, CaseListQuery query, Clinic clinic, ClinicPeople people)
    {
        if (query.Status is { Length: > 0 } status)
        {
            cases = EnumNames<CaseStatus>.TryParse(status, out var wanted)
                ? wanted switch
                {
                    CaseStatus.Open => cases.Where(c => c.Outcome == null && c.ContinuesOn == null),
                    CaseStatus.Paused => cases.Where(c => c.Outcome == null && c.ContinuesOn != null),
                    _ => cases.Where(c => c.Outcome != null),
                }
                : throw new InvalidEntryException("status", "Must be open, paused or ended.");
        }

        if (DayFields.Start("from", query.From, clinic, plusDays: 0) is { } from)
        {
            cases = cases.Where(c => c.OpenedAt.Utc >= from);
        }

        if (DayFields.Start("to", query.To, clinic, plusDays: 1) is { } to)
        {
            cases = cases.Where(c => c.OpenedAt.Utc < to);
        }

        if (query.Surgeon is { Length: > 0 } email)
        {
            var surgeon = people.SurgeonOf("surgeon", email);
            cases = cases.Where(c => c.SurgeonId == surgeon);
        }

        if (FreeText.Optional("site", query.Site, FreeText.LongestShort) is { } site)
        {
            cases = cases.Where(c => c.SiteCode.StartsWith(site));
        }

        return AfterCursor(Matching(cases, query.Q), query.Cursor);
    }

    private static IQueryable<CaseRow> Matching(IQueryable<CaseRow> cases, string? text)
    {
        if (FreeText.Optional("q", text, FreeText.LongestShort) is not { } sought)
        {
            return cases;
        }

        // Translated to SQL, where upper and lower case are the database's.
#pragma warning disable CA1304, CA1311, CA1862
        var lower = sought.ToLowerInvariant();
        return cases.Where(c => c.CaseNumber.ToLower().Contains(lower));
#pragma warning restore CA1304, CA1311, CA1862
    }

    private static IQueryable<CaseRow> AfterCursor(IQueryable<CaseRow> cases, string? cursor)
    {
        if (string.IsNullOrEmpty(cursor))
        {
            return cases;
        }

        var (utc, number) = ReadCursor(cursor);

        // Translated to SQL: the database compares as it sorts.
#pragma warning disable CA1309
        return cases.Where(c => c.OpenedAt.Utc < utc || (c.OpenedAt.Utc == utc && string.Compare(c.CaseNumber, number) < 0));
#pragma warning restore CA1309
    }

    private static CaseListItem Item(CaseRow c, ClinicPeople people, SubjectKey subject) => new(
        c.CaseId,
        c.CaseNumber,
        c.OpenPatientRef(subject),
        people.EmailOf(c.SurgeonId),
        c.Outcome is not null ? CaseStatus.Ended : c.ContinuesOn is not null ? CaseStatus.Paused : CaseStatus.Open,
        c.Outcome,
        c.Recall,
        c.State,
        c.UnsignedReadings,
        c.OpenReviews,
        c.StageCount,
        new SiteBody(c.SiteCode, c.SiteSide, c.OpenSiteDetail(subject)),
        c.OpenedAt.ToDateTimeOffset());

    private static string CursorAfter(CaseRow last) =>
        Base64Url.EncodeToString(Encoding.UTF8.GetBytes(FormattableString.Invariant($"{last.OpenedAt.Utc.Ticks} {last.CaseNumber}")));

    private static (DateTime Utc, string Number) ReadCursor(string cursor)
    {
        if (Base64Url.IsValid(cursor)
            && Encoding.UTF8.GetString(Base64Url.DecodeFromChars(cursor)).Split(' ') is [var ticks, var number]
            && long.TryParse(ticks, NumberStyles.None, CultureInfo.InvariantCulture, out var utc)
            && utc <= DateTime.MaxValue.Ticks
            && !number.Contains('\0', StringComparison.Ordinal))
        {
            return (new DateTime(utc, DateTimeKind.Utc), number);
        }

        throw new InvalidEntryException("cursor", "Send the value of next from the previous page, or leave it out.");
    }
}
