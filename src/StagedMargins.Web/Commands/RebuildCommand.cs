using Microsoft.EntityFrameworkCore;
using StagedMargins.Storage;
using StagedMargins.Storage.Cases;
using StagedMargins.Storage.Ledger;
using StagedMargins.Web.Hosting;

namespace StagedMargins.Web.Commands;

/// <summary><c>rebuild</c>: makes every computed row again where it does not follow from the entries, case by case, while the service runs.</summary>
internal static class RebuildCommand
{
    private const int ProgressEvery = 200;

    /// <summary>Runs it.</summary>
    internal static async Task<int> RunAsync(IServiceProvider services, TextWriter output)
    {
        await using var scope = services.CreateAsyncScope();
        var first = scope.ServiceProvider.GetRequiredService<ClinicContext>();
        await Database.GuardPresentAsync(first, CancellationToken.None);
        await HistoryKeyFile.GuardAsync(first, services.GetRequiredService<LedgerKeys>());
        var (done, made, unreadable) = await RebuildAsync(services, first, db => db.CasesToRebuildAsync(CancellationToken.None), output);
        await output.WriteLineAsync(FormattableString.Invariant($"{done} cases looked at: the rows of {made} were made again; the others already followed from their entries."));
        return unreadable == 0 ? 0 : 2;
    }

    /// <summary>Makes again the rows that an earlier version of the program made, which know less than this one shows.</summary>
    internal static async Task RebuildEarlierAsync(IServiceProvider services)
    {
        await using var scope = services.CreateAsyncScope();
        await RebuildAsync(
            services,
            scope.ServiceProvider.GetRequiredService<ClinicContext>(),
            db => db.Cases.Where(row => row.MadeBy != CaseRow.PresentFunction).Select(row => row.CaseId).ToListAsync(),
            TextWriter.Null);
    }

    private static async Task<(int Done, int Made, int Unreadable)> RebuildAsync(
        IServiceProvider services, ClinicContext first, Func<ClinicContext, Task<List<Guid>>> which, TextWriter output)
    {
        await using var scope = services.CreateAsyncScope();
        var options = scope.ServiceProvider.GetRequiredService<DbContextOptions<ClinicContext>>();
        var (done, made, unreadable) = (0, 0, 0);
        foreach (var clinicId in await first.Clinics.Select(clinic => clinic.Id).ToListAsync())
        {
            await using var db = new ClinicContext(options) { Scope = new ClinicScope { ClinicId = clinicId, FindKeys = services.GetRequiredService<SubjectKeys> } };
            foreach (var caseId in await which(db))
            {
                try
                {
                    made += await db.RebuildAsync(clinicId, caseId, CancellationToken.None) ? 1 : 0;
                }
                catch (UnreadableEntryException e)
                {
                    unreadable++;
                    await output.WriteLineAsync($"NOT REBUILT  case {caseId}: {e.Message}");
                }

                if (++done % ProgressEvery == 0)
                {
                    await output.WriteLineAsync(FormattableString.Invariant($"{done} cases looked at"));
                }
            }
        }

        return (done, made, unreadable);
    }
}
