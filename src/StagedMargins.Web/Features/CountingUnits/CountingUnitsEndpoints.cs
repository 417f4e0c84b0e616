using System.Globalization;
using System.Text;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Core;
using StagedMargins.Core.CountingUnits;
using StagedMargins.Core.Mapping;
using StagedMargins.Storage;
using StagedMargins.Storage.Cases;
using StagedMargins.Storage.Clinics;
using StagedMargins.Storage.People;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.CountingUnits;

/// <summary>So many of a unit.</summary>
/// <param name="Unit">The unit.</param>
/// <param name="Count">How many.</param>
/// <param name="Code">The clinic's own code; null where its table gives none.</param>
/// <param name="Price">The clinic's own price for one.</param>
public sealed record UnitView(CountingUnit Unit, int Count, string? Code, decimal? Price);

/// <summary>The counting units of a case. No patient reference.</summary>
/// <param name="CaseNumber">Its number in the clinic.</param>
/// <param name="RegionGroup">The group of its body region; null where the case does not decide it.</param>
/// <param name="Units">The units.</param>
/// <param name="Question">What a person has to decide, where the case does not.</param>
public sealed record CaseUnitsView(string CaseNumber, RegionGroup? RegionGroup, UnitView[] Units, string? Question)
{
    /// <summary>The units of a case as they are sent.</summary>
    public static CaseUnitsView Of(SurgicalCase of, CodeTable? table)
    {
        var units = CaseUnits.Of(of);
        return new CaseUnitsView(
            of.CaseNumber,
            units.RegionGroup,
            [.. Enum.GetValues<CountingUnit>().Select(unit => View(unit, units, table))],
            units.RegionGroup is null ? "Site code and area class do not say whether this is hand, foot or genitalia, or trunk, arm or leg; decide it from the site before counting." : null);
    }

    private static UnitView View(CountingUnit unit, CaseUnits units, CodeTable? table)
    {
        var code = table?.CodeOf(units.RegionGroup, unit);
        return new UnitView(unit, units.CountOf(unit), code?.Code, code?.Price);
    }
}

/// <summary>The counting units of a month.</summary>
/// <param name="Month">The month in which the cases ended, in the clinic's time zone.</param>
/// <param name="Cases">Its cases, by number.</param>
/// <param name="Undecided">How many of them have no region group.</param>
public sealed record MonthUnitsView(string Month, CaseUnitsView[] Cases, int Undecided);

/// <summary>Counting units for the clinic's own billing.</summary>
public static class CountingUnitsEndpoints
{
    /// <summary>Adds the routes.</summary>
    public static void MapCountingUnits(this IEndpointRouteBuilder routes)
    {
        var group = routes.MapGroup("/api/counting-units").WithTags("Counting units").RequireAuthorization(Policies.SeeFollowUp);
        group.MapGet("/months/{month}", MonthAsync)
            .WithSummary("The counting units of each case that ended in a month, yyyy-MM: a surgeon's own, or the clinic's for a manager.").Produces<MonthUnitsView>();
        group.MapGet("/months/{month}.csv", CsvAsync).WithSummary("The same as CSV.").Produces<string>(contentType: "text/csv");
    }

    private static async Task<IResult> MonthAsync(string month, CurrentPerson person, ClinicContext db, CodeTables tables, CancellationToken cancel) =>
        Results.Ok(await OfMonthAsync(month, person, db, tables, cancel));

    private static async Task<IResult> CsvAsync(string month, CurrentPerson person, ClinicContext db, CodeTables tables, CancellationToken cancel)
    {
        var of = await OfMonthAsync(month, person, db, tables, cancel);
        var text = new StringBuilder("caseNumber,regionGroup,unit,count,code,price\r\n");
        foreach (var (one, unit) in from one in of.Cases from unit in one.Units where unit.Count > 0 select (one, unit))
        {
            text.Append(CultureInfo.InvariantCulture, $"{one.CaseNumber},{(one.RegionGroup is { } known ? Words<RegionGroup>.Of(known) : "")},{Words<CountingUnit>.Of(unit.Unit)},{unit.Count},{Quoted(unit.Code)},{unit.Price}\r\n");
        }

        return Results.Text(text.ToString(), "text/csv", Encoding.UTF8);
    }

    private static async Task<MonthUnitsView> OfMonthAsync(string month, CurrentPerson person, ClinicContext db, CodeTables tables, CancellationToken cancel)
    {
        if (!DateOnly.TryParseExact(month, "yyyy-MM", CultureInfo.InvariantCulture, DateTimeStyles.None, out var first) || first.Year is < 1900 or > 2199)
        {
            throw new InvalidEntryException("month", "A month such as 2026-03.");
        }

        var clinic = await db.Clinics.SingleAsync(c => c.Id == person.ClinicId, cancel);
        var (from, to) = (clinic.StartOf(first), clinic.StartOf(first.AddMonths(1)));
        var cases = db.Cases.AsNoTracking().SeenBy(person.Id).Where(c => c.Head.EndedUtc >= from && c.Head.EndedUtc < to);
        if (!person.Is(Roles.Manager))
        {
            cases = cases.Where(c => c.SurgeonId == person.Id);
        }

        var table = await tables.OfAsync(person.ClinicId, cancel);
        var ended = await cases.Include(c => c.Stages).ThenInclude(stage => stage.Blocks).AsSplitQuery().OrderBy(c => c.CaseNumber).ToListAsync(cancel);
        CaseUnitsView[] views = [.. ended.Select(c => CaseUnitsView.Of(c, table))];
        return new MonthUnitsView(month, views, views.Count(view => view.RegionGroup is null));
    }

    private static string Quoted(string? code) => code is null ? "" : $"\"{code.Replace("\"", "\"\"", StringComparison.Ordinal)}\"";
}
