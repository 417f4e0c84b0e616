using Microsoft.EntityFrameworkCore;
using StagedMargins.Storage;
using StagedMargins.Storage.History;
using StagedMargins.Web.Features.History;

namespace StagedMargins.Web.Commands;

/// <summary><c>verify</c>: checks the whole record, every case of every clinic, and says what is not as it was written.</summary>
internal static class VerifyCommand
{
    private const int ProgressEvery = 200;

    /// <summary>Runs it.</summary>
    /// <returns>0 where all is intact, 2 where something is not.</returns>
    internal static async Task<int> RunAsync(IServiceProvider services, TextWriter output)
    {
        var cases = await CasesAsync(services);
        var (count, done, faults) = (cases.Count, 0, 0);
        await output.WriteLineAsync(FormattableString.Invariant($"Checking {count} cases …"));
        foreach (var (clinicId, caseId, number) in cases)
        {
            if (await FaultAsync(services, clinicId, caseId) is { } fault)
            {
                faults++;
                await output.WriteLineAsync(FormattableString.Invariant($"NOT INTACT  case {number}, change {fault.Sequence}, {fault.Row}: {fault.Why}"));
            }

            if (++done % ProgressEvery == 0)
            {
                await output.WriteLineAsync(FormattableString.Invariant($"{done} of {count} checked"));
            }
        }

        await output.WriteLineAsync(faults == 0
            ? FormattableString.Invariant($"{done} cases checked: all as they were written.")
            : FormattableString.Invariant($"{done} cases checked: {faults} not as they were written."));
        return faults == 0 ? 0 : 2;
    }

    // Cases are found by their histories as well, so that one whose rows were taken away is missed.
    private static async Task<List<(Guid ClinicId, Guid CaseId, string Number)>> CasesAsync(IServiceProvider services)
    {
        await using var scope = services.CreateAsyncScope();
        var db = scope.ServiceProvider.GetRequiredService<ClinicContext>();
        var numbers = await db.Cases.IgnoreQueryFilters().ToDictionaryAsync(c => c.Id, c => c.CaseNumber);
        var keys = await db.History.IgnoreQueryFilters().Select(row => new { row.ClinicId, row.CaseId })
            .Union(db.Cases.IgnoreQueryFilters().Select(c => new { c.ClinicId, CaseId = c.Id }))
            .ToListAsync();
        return [.. keys.Select(key => (key.ClinicId, key.CaseId, numbers.GetValueOrDefault(key.CaseId) ?? key.CaseId.ToString()))];
    }

    private static async Task<ChainFault?> FaultAsync(IServiceProvider services, Guid clinicId, Guid caseId)
    {
        await using var scope = services.CreateAsyncScope();
        scope.ServiceProvider.GetRequiredService<ClinicScope>().ClinicId = clinicId;
        return await scope.ServiceProvider.GetRequiredService<HistoryCheck>().FirstFaultAsync(caseId, CancellationToken.None);
    }
}
