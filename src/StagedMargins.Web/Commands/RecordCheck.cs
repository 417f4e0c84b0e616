using Microsoft.EntityFrameworkCore;
using StagedMargins.Storage;
using StagedMargins.Storage.History;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Commands;

/// <summary>Checks a whole record, every case of every clinic, and says what is not as it was written.</summary>
/// <param name="open">Opens the record with a clinic in scope.</param>
/// <param name="chain">Checks seals.</param>
/// <param name="output">Where it is said.</param>
internal sealed class RecordCheck(Func<Guid, ClinicContext> open, HistoryChain chain, TextWriter output)
{
    private const int ProgressEvery = 200;

    /// <summary>Runs it.</summary>
    /// <returns>True where all is intact.</returns>
    internal async Task<bool> RunAsync(CancellationToken cancel)
    {
        var cases = await CasesAsync(cancel);
        var (count, done, faults) = (cases.Count, 0, 0);
        await output.WriteLineAsync(FormattableString.Invariant($"Checking {count} cases …"));
        foreach (var (clinicId, caseId, number) in cases)
        {
            await using var db = open(clinicId);
            if (await new HistoryCheck(db, chain).FirstFaultAsync(caseId, cancel) is { } fault)
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
            ? FormattableString.Invariant($"{done} cases checked: all unchanged since they were written.")
            : FormattableString.Invariant($"{done} cases checked: {faults} changed since they were written."));
        return faults == 0;
    }

    // Cases are found by their histories as well, so that one whose rows were taken away is missed.
    private async Task<List<(Guid ClinicId, Guid CaseId, string Number)>> CasesAsync(CancellationToken cancel)
    {
        await using var db = open(Guid.Empty);
        var numbers = await db.Cases.IgnoreQueryFilters().ToDictionaryAsync(c => new { c.ClinicId, CaseId = c.Id }, c => c.CaseNumber, cancel);
        var keys = await db.History.IgnoreQueryFilters().Select(row => new { row.ClinicId, row.CaseId })
            .Union(db.Cases.IgnoreQueryFilters().Select(c => new { c.ClinicId, CaseId = c.Id }))
            .ToListAsync(cancel);
        return [.. keys.Select(key => (key.ClinicId, key.CaseId, numbers.GetValueOrDefault(key) ?? key.CaseId.ToString()))];
    }
}
