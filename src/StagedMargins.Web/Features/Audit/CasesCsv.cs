using System.Globalization;
using CsvHelper;
using Microsoft.AspNetCore.Mvc;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Core;
using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;
using StagedMargins.Storage;
using StagedMargins.Storage.Audit;
using StagedMargins.Storage.Cases;
using StagedMargins.Storage.Clinics;
using StagedMargins.Web.Contract;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.Audit;

/// <summary>
/// Ended cases as comma-separated values (RFC 4180), one row each, for analysis elsewhere. No patient reference, no free text.
/// </summary>
public static class CasesCsv
{
    private const int Page = 200;
    private const double Um2PerMm2 = 1e6;

    // Every column and what stands in it; null is an empty field.
    private static readonly (string Name, Func<Row, object?> Value)[] Columns =
    [
        ("caseNumber", row => row.Counted.CaseNumber),
        ("openedOn", row => row.Day(row.Case.OpenedAt.Utc)),
        ("endedOn", row => row.Day(row.Counted.EndedUtc)),
        ("surgeon", row => row.Surgeon),
        ("siteCode", row => row.Case.Facts.Site.Code),
        ("side", row => row.Case.Facts.Site.Side is { } side ? EnumNames<BodySide>.Of(side) : null),
        ("areaClass", row => Sites.AreaOf(row.Case.Facts) is { } area ? EnumNames<AreaClass>.Of(area) : null),
        ("morphology", row => row.Case.Facts.Tumour.Morphology),
        ("recurrent", row => row.Case.Facts.Tumour.Recurrent),
        ("differentiation", row => row.Case.Facts.Tumour.Differentiation is { } grade ? EnumNames<Differentiation>.Of(grade) : null),
        ("preOperativeLengthMm", row => row.Case.Facts.PreOperative?.Length.Millimetres),
        ("preOperativeWidthMm", row => row.Case.Facts.PreOperative?.Width.Millimetres),
        ("outcome", row => EnumNames<CaseOutcome>.Of(row.Counted.Outcome)),
        ("recall", row => row.Counted.Recall > 0),
        ("stages", row => (double)row.Counted.Stages),
        ("clearedStage", row => (double?)row.Counted.ClearedStage),
        ("blocks", row => (double)row.Counted.Blocks),
        ("readings", row => (double)row.Counted.Readings),
        ("unreadable", row => (double)row.Counted.Unreadable),
        ("amendments", row => (double)row.Counted.Amendments),
        ("recuts", row => (double)row.Counted.Recuts),
        ("notSeen", row => (double)row.Counted.NotSeen),
        ("readingsWithdrawn", row => (double)row.Counted.Withdrawn),
        ("corrections", row => (double)row.Counted.Corrections),
        ("reopenings", row => (double)row.Counted.Reopenings),
        ("reviewsOpen", row => (double)row.Counted.ReviewsOpen),
        ("reviewsAnswered", row => (double)row.Counted.ReviewsAnswered),
        ("defectAreaMm2", row => row.Counted.DefectUm2 / Um2PerMm2),
        ("lesionAreaMm2", row => row.Counted.LesionUm2 / Um2PerMm2),
        ("measuredLengthMm", row => row.Measured?.Length.Millimetres),
        ("measuredWidthMm", row => row.Measured?.Width.Millimetres),
        ("measuredPlane", row => row.Measured?.Plane is { } plane ? EnumNames<AnatomicalPlane>.Of(plane) : null),
        ("repair", row => row.Repair is { } repair ? EnumNames<RepairKind>.Of(repair) : null),
    ];

    /// <summary>Adds the route.</summary>
    public static void MapCasesCsv(this IEndpointRouteBuilder routes) => routes
        .MapGet("/api/cases.csv", GetAsync).RequireAuthorization(Policies.SeeAudit).WithTags("Exchange")
        .WithSummary("Cases that ended in a period (by the clinic's clock), one row each, without patient references: a surgeon's own, or the clinic's for a manager.")
        .Produces<string>(contentType: "text/csv");

    private static async Task<IResult> GetAsync([FromQuery] string? from, [FromQuery] string? to, CurrentPerson person, ClinicContext db, CancellationToken cancel)
    {
        var period = AuditPeriod.FromQuery(new AuditQuery(from, to, null));
        var clinic = await db.AllowLongReads().Clinics.SingleAsync(c => c.Id == person.ClinicId, cancel);
        var people = await ClinicPeople.LoadAsync(db, person.ClinicId, cancel);
        var counted = period.Filter(db.AuditCases.AsNoTracking(), clinic);
        if (person.FiguresLimitedTo is { } own)
        {
            counted = counted.Where(c => c.SurgeonId == own);
        }

        return Results.Stream(body => WriteAsync(body, counted, clinic, people, person, db, cancel), CsvFile.MediaType, "cases.csv");
    }

    // Page by page, so that the memory that it takes does not grow with the number of cases.
    private static async Task WriteAsync(
        Stream body, IQueryable<AuditCase> counted, Clinic clinic, ClinicPeople people, CurrentPerson person, ClinicContext db, CancellationToken cancel)
    {
        var after = "";
        for (var isFirst = true; ; isFirst = false)
        {
            // Translated to SQL: the database compares as it sorts.
#pragma warning disable CA1309
            var page = await counted.Where(c => string.Compare(c.CaseNumber, after) > 0).OrderBy(c => c.CaseNumber).Take(Page).ToListAsync(cancel);
#pragma warning restore CA1309
            var ids = page.Select(row => row.CaseId).ToList();
            var seen = await db.CasesSeenBy(person.Id).Where(c => ids.Contains(c.CaseId)).Select(c => c.CaseId).ToListAsync(cancel);
            var cases = (await db.LoadCasesAsync(seen, cancel)).All.ToDictionary(c => c.Id);
            using var lines = Lines(isFirst, page.Where(row => cases.ContainsKey(row.CaseId)).Select(row => new Row(row, cases[row.CaseId], clinic, people)));
            await lines.CopyToAsync(body, cancel);
            if (page.Count < Page)
            {
                return;
            }

            after = page[^1].CaseNumber;
        }
    }

    private static MemoryStream Lines(bool withHeader, IEnumerable<Row> rows)
    {
        var lines = new MemoryStream();
        using (var csv = CsvFile.Writer(lines))
        {
            if (withHeader)
            {
                csv.WriteHeader([.. Columns.Select(column => column.Name)]);
            }

            foreach (var row in rows)
            {
                foreach (var (_, value) in Columns)
                {
                    Write(csv, value(row));
                }

                csv.EndRecord();
            }
        }

        lines.Position = 0;
        return lines;
    }

    private static void Write(CsvWriter csv, object? value)
    {
        switch (value)
        {
            case double number:
                csv.WriteField(number);
                break;
            case bool flag:
                csv.WriteField(flag ? "true" : "false");
                break;
            default:
                csv.WriteField(value as string ?? "");
                break;
        }
    }

    private sealed record Row(AuditCase Counted, SurgicalCase Case, Clinic Clinic, ClinicPeople People)
    {
        internal string? Surgeon => People.EmailOf(Counted.SurgeonId);

        internal MeasuredDefect? Measured => Case.MeasuredDefects is [.., var last] ? last : null;

        internal RepairKind? Repair => Case.Repairs is [.., var last] ? last.Kind : Case.Ending?.Repair;

        internal string Day(DateTime utc) => Clinic.DayOf(utc).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
    }
}
