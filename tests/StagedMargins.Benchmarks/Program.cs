using System.Diagnostics;
using System.Globalization;
using System.Security.Claims;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Benchmarks;
using StagedMargins.Storage;
using StagedMargins.Storage.People;
using StagedMargins.Storage.Postgres;
using StagedMargins.Storage.Sqlite;
using StagedMargins.Web.Features.Audit;
using StagedMargins.Web.Writing;

// Run by hand, never by the tests:
//   dotnet run -c Release --project tests/StagedMargins.Benchmarks -- postgres "Host=…" 1000000
//   dotnet run -c Release --project tests/StagedMargins.Benchmarks -- sqlite trial.db 100000
if (args is not [("postgres" or "sqlite") and var engine, var place, var number] || !int.TryParse(number, CultureInfo.InvariantCulture, out var count))
{
    await Console.Error.WriteLineAsync("Say: postgres CONNECTION CASES, or sqlite FILE CASES. The database is filled where it is empty.");
    return 1;
}

const int Rounds = 5;
var options = new DbContextOptionsBuilder<ClinicContext>();
if (engine == "postgres")
{
    PostgresDatabase.Use(options, place);
}
else
{
    SqliteDatabase.Use(options, $"Data Source={place}");
}

var scope = new ClinicScope { ClinicId = InventedCases.Clinic };
var filled = Stopwatch.StartNew();
await using (var db = new ClinicContext(options.Options, scope))
{
    await Filling.FillAsync(db, count);
}

Console.WriteLine(FormattableString.Invariant($"{engine}, {count} cases, ready after {filled.Elapsed.TotalSeconds:0} s"));
var manager = new CurrentPerson(Guid.Empty, InventedCases.Clinic, new ClaimsPrincipal(new ClaimsIdentity([new Claim(ClaimTypes.Role, Roles.Manager)], "trial")));
foreach (var (name, period) in new[] { ("a month by surgeon", AuditPeriod.OfMonth("2023-06")), ("all by surgeon", new AuditPeriod(null, null)) })
{
    var ours = await MedianAsync(async db => await new AuditService(db).OfAsync(period, AuditGrouping.Surgeon, manager, CancellationToken.None));
    var byHand = await MedianAsync(db => HandWritten.RunAsync(db, period));
    Console.WriteLine(FormattableString.Invariant($"{name,-20} ours {ours,8:0.0} ms   by hand {byHand,8:0.0} ms   ratio {ours / byHand:0.00}"));
}

using var self = Process.GetCurrentProcess();
Console.WriteLine(FormattableString.Invariant($"peak memory of the process {self.PeakWorkingSet64 / 1048576.0:0} MiB (the filling included where it was done now)"));
return 0;

async Task<double> MedianAsync(Func<ClinicContext, Task> run)
{
    var times = new List<double>();
    for (var round = 0; round <= Rounds; round++)
    {
        await using var db = new ClinicContext(options.Options, scope);
        db.Database.SetCommandTimeout(600);
        var watch = Stopwatch.StartNew();
        await run(db);
        times.Add(watch.Elapsed.TotalMilliseconds);
    }

    // The first round warms up.
    return times.Skip(1).Order().ElementAt(Rounds / 2);
}
