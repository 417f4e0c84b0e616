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
        var options = scope.ServiceProvider.GetRequiredService<DbContextOptions<ClinicContext>>();
        var (done, made, unreadable) = (0, 0, 0);
        foreach (var clinicId in await first.Clinics.Select(clinic => clinic.Id).ToListAsync())
        {
            await using var db = new ClinicContext(options) { Scope = new ClinicScope { ClinicId = clinicId, FindKeys = services.GetRequiredService<SubjectKeys> } };
            foreach (var caseId in await db.CasesToRebuildAsync(CancellationToken.None))
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

        await output.WriteLineAsync(FormattableString.Invariant($"{done} cases looked at: the rows of {made} were made again; the others already followed from their entries."));
        return unreadable == 0 ? 0 : 2;
    }
}
