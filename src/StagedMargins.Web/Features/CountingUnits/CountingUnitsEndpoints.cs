using StagedMargins.Web.Contract;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.CountingUnits;

/// <summary>Counting units for the clinic's own billing.</summary>
public static class CountingUnitsEndpoints
{
    /// <summary>Adds what counts them.</summary>
    public static void AddCountingUnits(this IServiceCollection services)
    {
        services.AddSingleton<CodeTables>();
        services.AddScoped<MonthUnits>();
    }

    /// <summary>Adds the routes.</summary>
    public static void MapCountingUnits(this IEndpointRouteBuilder routes)
    {
        var group = routes.MapGroup("/api/counting-units").WithTags("Counting units").RequireAuthorization(Policies.SeeFollowUp);
        group.MapGet("/months/{month}", MonthAsync)
            .WithSummary("The counting units of each case that ended in a month, yyyy-MM: a surgeon's own, or the clinic's for a manager.").Produces<MonthUnitsView>();
        group.MapGet("/months/{month}.csv", CsvAsync).WithSummary("The same as CSV.").Produces<string>(contentType: "text/csv");
    }

    private static async Task<IResult> MonthAsync(string month, CurrentPerson person, MonthUnits units, CodeTables tables, CancellationToken cancel) =>
        Results.Ok(await CountAsync(month, person, units, tables, cancel));

    private static async Task<IResult> CsvAsync(string month, CurrentPerson person, MonthUnits units, CodeTables tables, CancellationToken cancel) =>
        Results.File(UnitsCsv.Write(await CountAsync(month, person, units, tables, cancel)), CsvFile.MediaType, $"counting-units-{month}.csv");

    private static async Task<MonthUnitsView> CountAsync(string month, CurrentPerson person, MonthUnits units, CodeTables tables, CancellationToken cancel) =>
        await units.CountAsync(month, person, (await tables.LoadAsync(person.ClinicId, cancel)).OrRefuse(), cancel);
}
