using Microsoft.EntityFrameworkCore;
using StagedMargins.Storage;
using StagedMargins.Storage.Ledger;
using StagedMargins.Storage.Plain;
using StagedMargins.Web.Hosting;

namespace StagedMargins.Web.Commands;

/// <summary><c>tables</c>: makes plain tables for SQL of a clinic's own, and fills them with every case of every clinic, all or nothing.</summary>
internal static class TablesCommand
{
    /// <summary>Runs it.</summary>
    /// <returns>0 where every case is in them, 2 where one can't be read.</returns>
    internal static async Task<int> RunAsync(IServiceProvider services, TextWriter output)
    {
        using var stop = new StopSignals();
        await using var scope = services.CreateAsyncScope();
        await using var db = TableOwner.Open(scope.ServiceProvider);
        await Database.GuardPresentAsync(db, stop.Token);
        await HistoryKeyFile.GuardAsync(db, services.GetRequiredService<LedgerKeys>());
        await using var transaction = await db.Database.BeginTransactionAsync(stop.Token);
        await db.MakePlainTablesAsync(stop.Token);
        var (all, left) = (0, 0);
        foreach (var clinicId in await db.Clinics.Select(clinic => clinic.Id).ToListAsync(stop.Token))
        {
            db.Scope = new ClinicScope { ClinicId = clinicId, FindKeys = services.GetRequiredService<SubjectKeys> };
            var (cases, unreadable) = await db.FillPlainTablesAsync(done => output.WriteLine(FormattableString.Invariant($"{done} cases written")), stop.Token);
            foreach (var caseId in unreadable)
            {
                await output.WriteLineAsync($"LEFT OUT    case {caseId}: its entries can't be read; run verify.");
            }

            (all, left) = (all + cases - unreadable.Count, left + unreadable.Count);
        }

        await transaction.CommitAsync(stop.Token);
        await output.WriteLineAsync(FormattableString.Invariant($"plain_cases, plain_stages, plain_blocks and plain_readings hold {all} cases as they are now. Run this again to renew them."));
        return left == 0 ? 0 : 2;
    }
}
