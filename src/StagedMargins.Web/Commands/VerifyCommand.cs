using Microsoft.EntityFrameworkCore;
using StagedMargins.Storage;
using StagedMargins.Storage.Ledger;
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
        await HistoryKeyFile.GuardAsync(scope.ServiceProvider.GetRequiredService<ClinicContext>(), services.GetRequiredService<LedgerKeys>());
        var options = scope.ServiceProvider.GetRequiredService<DbContextOptions<ClinicContext>>();
        var check = new RecordCheck(
            clinicId => new ClinicContext(options) { Scope = new ClinicScope { ClinicId = clinicId, FindKeys = services.GetRequiredService<SubjectKeys> } },
            services.GetRequiredService<LedgerCheck>(),
            output,
            Anchors(services.GetRequiredService<IConfiguration>()));

        // What is derived from a record is worth checking only where the record itself is as it was written.
        return await check.RunAsync(CancellationToken.None) && await AuditUpkeep.SayDifferentAsync(services, output) ? 0 : 2;
    }

    // A line of the file is a head, with the time before it as the service writes it.
    private static IReadOnlyList<LedgerAnchor> Anchors(IConfiguration settings)
    {
        try
        {
            string[] expected = settings["expect"] is { } head ? [head] : [];
            var lines = settings["anchors"] is { } file ? File.ReadAllLines(file) : [];
            return [.. expected.Concat(lines.Where(line => !string.IsNullOrWhiteSpace(line) && line[0] != '#').Select(line => line.Trim().Split(' ')[^1])).Select(LedgerAnchor.Parse)];
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new StartFailureException($"The file of anchors can't be read: {settings["anchors"]}.");
        }
        catch (FormatException e)
        {
            throw new StartFailureException(e.Message);
        }
    }
}
