using StagedMargins.Storage;
using StagedMargins.Web.Features.Audit;
using StagedMargins.Web.Hosting;

namespace StagedMargins.Web.Commands;

/// <summary><c>rebuild-audit</c>: makes the audit's summaries of ended cases again where they do not follow from the record.</summary>
internal static class RebuildAuditCommand
{
    /// <summary>Runs it.</summary>
    /// <returns>0.</returns>
    internal static async Task<int> RunAsync(IServiceProvider services, TextWriter output)
    {
        await using (var scope = services.CreateAsyncScope())
        {
            await Database.GuardPresentAsync(scope.ServiceProvider.GetRequiredService<ClinicContext>(), CancellationToken.None);
        }

        var made = await AuditUpkeep.RebuildAsync(services, onlyMissing: false);
        await output.WriteLineAsync(FormattableString.Invariant($"{made} summaries of ended cases rebuilt; the others already matched the record."));
        return 0;
    }
}
