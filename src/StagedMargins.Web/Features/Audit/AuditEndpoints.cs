using Microsoft.AspNetCore.Mvc;
using StagedMargins.Web.Contract;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.Audit;

/// <summary>The audit over HTTP. No answer holds a patient reference.</summary>
public static class AuditEndpoints
{
    /// <summary>Adds the routes.</summary>
    public static void MapAudit(this IEndpointRouteBuilder routes)
    {
        var audit = routes.MapGroup("/api").RequireAuthorization(Policies.SeeAudit).WithTags("Audit");
        audit.MapGet("/audit", GetAsync).WithSummary("The figures of a period, grouped if requested. A surgeon gets their own, with the clinic's beside them.").Produces<AuditView>();
        audit.MapGet("/audit.csv", GetCsvAsync).WithSummary("The same as CSV.").Produces<string>(contentType: "text/csv");
        audit.MapGet("/audit/months/{month}", MonthAsync).WithSummary("The figures of a month (by the clinic's clock), by surgeon; if it was closed, also what has changed since.").Produces<AuditView>();
        audit.MapGet("/audit/months/{month}.csv", MonthCsvAsync).WithSummary("The same as CSV.").Produces<string>(contentType: "text/csv");
        audit.MapPost("/audit/months/{month}/close", CloseAsync).RequireAuthorization(Policies.Manager)
            .WithSummary("Closes a month that is over: keeps its figures. Repeating it changes nothing and gives the same answer.").Produces<ClosingView>();
        audit.MapGet("/audit/cases", CasesAsync).WithSummary("The numbers of the cases behind a figure.").Produces<AuditCasesView>();
        audit.MapGet("/audit/published", (PublishedValues published) => Results.Ok(published.All)).WithSummary("Published values to compare with, each with its source and how sure it is.").Produces<IReadOnlyList<PublishedValue>>();
        audit.MapGet("/audit/funnel.png", FunnelAsync).WithSummary("Mean stages by surgeon against number of cases, with 95 % and 99.8 % limits, as PNG.").Produces<byte[]>(contentType: ChartPicture.MediaType);
        audit.MapGet("/audit/months.png", MonthsAsync).WithSummary("Mean stages by month with individuals and moving-range limits, as PNG.").Produces<byte[]>(contentType: ChartPicture.MediaType);
    }

    private static async Task<IResult> GetAsync([AsParameters] AuditQuery query, CurrentPerson person, AuditService audit, CancellationToken cancel) =>
        Results.Ok(await FiguresAsync(query, person, audit, cancel));

    private static async Task<IResult> GetCsvAsync([AsParameters] AuditQuery query, CurrentPerson person, AuditService audit, CancellationToken cancel) =>
        Csv(await FiguresAsync(query, person, audit, cancel), "audit.csv");

    private static Task<AuditView> FiguresAsync(AuditQuery query, CurrentPerson person, AuditService audit, CancellationToken cancel) =>
        audit.FiguresAsync(AuditPeriod.FromQuery(query), AuditPeriod.Grouping(query.GroupBy), person, cancel);

    private static async Task<IResult> MonthAsync(string month, CurrentPerson person, AuditService audit, MonthClosings closings, CancellationToken cancel)
    {
        var period = AuditPeriod.OfMonth(month);
        var view = await audit.FiguresAsync(period, AuditGrouping.Surgeon, person, cancel);

        // A closing holds the whole clinic's figures, which are the manager's to compare.
        var closing = person.FiguresLimitedTo is null ? await closings.FindAsync(period, view, person, cancel) : null;
        return Results.Ok(view.With(closing));
    }

    private static async Task<IResult> MonthCsvAsync(string month, CurrentPerson person, AuditService audit, CancellationToken cancel) =>
        Csv(await audit.FiguresAsync(AuditPeriod.OfMonth(month), AuditGrouping.Surgeon, person, cancel), $"audit-{month}.csv");

    private static async Task<IResult> CloseAsync(string month, CurrentPerson person, MonthClosings closings, CancellationToken cancel) =>
        Results.Ok(await closings.CloseAsync(AuditPeriod.OfMonth(month), person, cancel));

    private static async Task<IResult> CasesAsync([AsParameters] AuditCasesQuery query, CurrentPerson person, AuditCaseList list, CancellationToken cancel) =>
        Results.Ok(await list.FindAsync(query, person, cancel));

    private static async Task<IResult> FunnelAsync([AsParameters] AuditQuery query, [FromQuery] int? width, CurrentPerson person, AuditService audit, CancellationToken cancel)
    {
        var checkedWidth = ChartPicture.CheckWidth(width);
        return Results.Bytes(FunnelChart.Draw(await audit.FiguresAsync(AuditPeriod.FromQuery(query), AuditGrouping.Surgeon, person, cancel), checkedWidth), ChartPicture.MediaType);
    }

    private static async Task<IResult> MonthsAsync([AsParameters] AuditQuery query, [FromQuery] int? width, CurrentPerson person, AuditService audit, CancellationToken cancel)
    {
        var checkedWidth = ChartPicture.CheckWidth(width);
        return Results.Bytes(MonthChart.Draw(await audit.FiguresAsync(AuditPeriod.FromQuery(query), AuditGrouping.Month, person, cancel), checkedWidth), ChartPicture.MediaType);
    }

    private static IResult Csv(AuditView audit, string name) => Results.File(AuditCsv.Write(audit), CsvFile.MediaType, name);
}
