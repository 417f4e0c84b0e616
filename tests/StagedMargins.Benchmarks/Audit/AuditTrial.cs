using System.Diagnostics;
using System.Security.Claims;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Storage;
using StagedMargins.Storage.People;
using StagedMargins.Storage.Postgres;
using StagedMargins.Storage.Sqlite;
using StagedMargins.Web.Features.Audit;
using StagedMargins.Web.Writing;

namespace StagedMargins.Benchmarks.Audit;

/// <summary>How long the audit takes beside the same figures as one would write them by hand, turn and turn about over one database.</summary>
internal static class AuditTrial
{
    // The first rounds warm up.
    private const int WarmUp = 5;
    private const int Rounds = 9;

    /// <summary>Fills the database where it is empty, and prints the medians.</summary>
    internal static async Task RunAsync(string engine, string place, int count)
    {
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
        List<(string Name, string Sql)> ways;
        await using (var db = new ClinicContext(options.Options) { Scope = scope })
        {
            await Filling.FillAsync(db, count);
            ways = [.. HandWritten.For(db)];
        }

        Console.WriteLine(FormattableString.Invariant($"{engine}, {count} cases, ready after {filled.Elapsed.TotalSeconds:0} s"));
        var manager = new CurrentPerson(Guid.Empty, InventedCases.Clinic, new ClaimsPrincipal(new ClaimsIdentity([new Claim(ClaimTypes.Role, Roles.Manager)], "trial")));
        foreach (var (name, period) in new[] { ("a month by surgeon", AuditPeriod.OfMonth("2023-06")), ("all by surgeon", new AuditPeriod(null, null)) })
        {
            // Turn and turn about, so that whatever else the machine does meets all alike.
            var runs = ways.Select(way => (way.Name, Run: (Func<ClinicContext, Task>)(db => HandWritten.RunAsync(db, way.Sql, period))))
                .Prepend((Name: "ours", Run: async db => await new AuditService(db).FiguresAsync(period, AuditGrouping.Surgeon, manager, CancellationToken.None))).ToList();
            var times = runs.ToDictionary(run => run.Name, _ => new List<double>());
            for (var round = 0; round < WarmUp + Rounds; round++)
            {
                foreach (var (way, run) in runs)
                {
                    times[way].Add(await TimeAsync(run));
                }
            }

            var medians = times.Select(timed => (Name: timed.Key, Time: timed.Value.Skip(WarmUp).Order().ElementAt(Rounds / 2))).ToList();
            var (ours, byHand) = (medians[0].Time, medians.Skip(1).ToList());
            var all = string.Join(", ", byHand.Select(way => FormattableString.Invariant($"{way.Name} {way.Time:0.0} ms")));
            Console.WriteLine(FormattableString.Invariant($"{name,-20} ours {ours:0.0} ms; by hand {all}; ratio to the best by hand {ours / byHand.Min(way => way.Time):0.00}"));
        }

        using var self = Process.GetCurrentProcess();
        Console.WriteLine(FormattableString.Invariant($"peak memory of the process {self.PeakWorkingSet64 / 1048576.0:0} MiB (the filling included where it was done now)"));

        async Task<double> TimeAsync(Func<ClinicContext, Task> run)
        {
            await using var db = new ClinicContext(options.Options) { Scope = scope };
            db.Database.SetCommandTimeout(600);
            var watch = Stopwatch.StartNew();
            await run(db);
            return watch.Elapsed.TotalMilliseconds;
        }
    }
}
