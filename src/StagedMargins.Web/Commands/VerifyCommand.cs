using Microsoft.EntityFrameworkCore;
using StagedMargins.Storage;
using StagedMargins.Storage.History;
using StagedMargins.Web.Features.Audit;
using StagedMargins.Web.Hosting;

namespace StagedMargins.Web.Commands;

/// <summary><c>verify</c>: checks the whole record, every case of every clinic, and says what is not as it was written.</summary>
internal static class VerifyCommand
{
    /// <summary>Runs it.</summary>
    /// <returns>0 where all is intact, 2 where something is not.</returns>
    internal static async Task<int> RunAsync(IServiceProvider services, TextWriter output)
    {
        await using var scope = services.CreateAsyncScope();
        await Database.GuardPresentAsync(scope.ServiceProvider.GetRequiredService<ClinicContext>(), CancellationToken.None);
        var options = scope.ServiceProvider.GetRequiredService<DbContextOptions<ClinicContext>>();
        var check = new RecordCheck(
            clinicId => new ClinicContext(options, new ClinicScope { ClinicId = clinicId }),
            services.GetRequiredService<HistoryChain>(),
            output);

        // What is derived from a record is worth checking only where the record itself is as it was written.
        return await check.RunAsync(CancellationToken.None) && await AuditUpkeep.SayDifferentAsync(services, output) ? 0 : 2;
    }
}
