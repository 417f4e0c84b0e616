using System.Diagnostics;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Benchmarks.Margins;
using StagedMargins.Core.Mapping;
using StagedMargins.Storage;
using StagedMargins.Storage.Cases;
using StagedMargins.Storage.Clinics;
using StagedMargins.Storage.Ledger;
using StagedMargins.Storage.People;
using StagedMargins.Storage.Postgres;
using StagedMargins.Storage.Sqlite;

namespace StagedMargins.Benchmarks.Ledger;

/// <summary>How fast a long case opens, and how many cases a second are checked and made again, beside reading the same rows and nothing else.</summary>
internal static class LedgerTrial
{
    private const int Cases = 300;
    private const int Rounds = 7;

    // What is short is compiled in its best form only after some rounds.
    private const int RoundsOfShort = 200;
    private static readonly Guid ClinicId = new(1, 0, 0, new byte[8]);

    /// <summary>Fills an empty database, and prints the medians.</summary>
    internal static async Task RunAsync(string engine, string place)
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

        var keys = LedgerKeys.Parse(LedgerKeys.NewLine("trial"));
        using var subjects = new SubjectKeys(keys);
        var ids = new List<Guid>();
        await using (var db = Context())
        {
            await db.Database.MigrateAsync();
            db.Add(new Clinic { Id = ClinicId, Name = "Clinic of the trial" });
            await db.SaveChangesAsync();
            var ledger = new LedgerWriter(keys);
            for (var i = 0; i < Cases; i++)
            {
                ids.Add(await WriteAsync(db, ledger, BenchmarkCase.Make(FormattableString.Invariant($"N-{i:0000000}"))));
            }
        }

        Guid longest;
        await using (var db = Context())
        {
            longest = await WriteAsync(db, new LedgerWriter(keys), BenchmarkCase.Make("L-0000001", RecordLimits.Stages, RecordLimits.Blocks));
        }

        var rows = await MedianAsync(db => db.EntriesOfCaseAsync(longest, CancellationToken.None), RoundsOfShort);
        var opened = await MedianAsync(async db => (await db.FindCaseAsync(longest, CancellationToken.None))!, RoundsOfShort);
        Console.WriteLine(FormattableString.Invariant($"{engine}: a case of {RecordLimits.Stages} stages with {RecordLimits.Blocks} blocks each, all read, opens in {opened:0.0} ms; its rows alone take {rows:0.0} ms; ratio {opened / rows:0.00}"));
        var read = await MedianAsync(db => EachAsync(id => db.EntriesOfCaseAsync(id, CancellationToken.None)));
        var check = new LedgerCheck(keys, new CredentialPrints(keys));
        var verified = await MedianAsync(db => EachAsync(id => check.FirstFaultOfCaseAsync(db, id, CancellationToken.None)));
        var rebuilt = await MedianAsync(db => EachAsync(id => db.RebuildAsync(ClinicId, id, CancellationToken.None)));
        Console.WriteLine(FormattableString.Invariant($"{engine}: of cases of 6 stages with 20 blocks each, {PerSecond(read):0}/s are read, {PerSecond(verified):0}/s verified (ratio {read / verified:0.00}), {PerSecond(rebuilt):0}/s looked at by rebuild (ratio {read / rebuilt:0.00})"));

        ClinicContext Context() => new(options.Options) { Scope = new ClinicScope { ClinicId = ClinicId, FindKeys = () => subjects } };

        double PerSecond(double milliseconds) => Cases * 1000 / milliseconds;

        async Task<int> EachAsync<T>(Func<Guid, Task<T>> work)
        {
            foreach (var id in ids)
            {
                await work(id);
            }

            return ids.Count;
        }

        async Task<double> MedianAsync<T>(Func<ClinicContext, Task<T>> work, int rounds = Rounds)
        {
            var times = new List<double>();
            for (var round = 0; round < rounds; round++)
            {
                await using var db = Context();
                var watch = Stopwatch.StartNew();
                await work(db);
                times.Add(watch.Elapsed.TotalMilliseconds);
            }

            var last = times.Skip(times.Count / 2).ToList();
            return last.Order().ElementAt(last.Count / 2);
        }
    }

    private static async Task<Guid> WriteAsync(ClinicContext db, LedgerWriter ledger, CaseLog made)
    {
        await using var transaction = await db.Database.BeginTransactionAsync();
        var by = LedgerAuthor.Person(made.Case.OpenedById, "Surgeon of the trial", "surgeon@trial.invalid");
        await ledger.AppendAsync(db, made.Case, [.. made.NewEntries.Select(entry => new EntryToWrite(entry.Event, by, entry.Written.At))], Guid.NewGuid(), CancellationToken.None);
        await db.SaveChangesAsync();
        await transaction.CommitAsync();
        db.ChangeTracker.Clear();
        return made.Case.Id;
    }
}
