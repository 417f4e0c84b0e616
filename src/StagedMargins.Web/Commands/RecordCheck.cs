using Microsoft.EntityFrameworkCore;
using StagedMargins.Core.Entries;
using StagedMargins.Storage;
using StagedMargins.Storage.Ledger;

namespace StagedMargins.Web.Commands;

/// <summary>Checks a whole record, every case of every clinic, and says what is not as it was written.</summary>
/// <param name="open">Opens the record with a clinic in scope.</param>
/// <param name="check">Checks seals and what is computed.</param>
/// <param name="output">Where it is said.</param>
/// <param name="anchors">Heads that were kept elsewhere.</param>
internal sealed class RecordCheck(Func<Guid, ClinicContext> open, LedgerCheck check, TextWriter output, params IReadOnlyList<LedgerAnchor> anchors)
{
    private const int ProgressEvery = 200;

    /// <summary>Runs it.</summary>
    /// <returns>True where all is intact.</returns>
    internal async Task<bool> RunAsync(CancellationToken cancel)
    {
        var isIntact = true;
        foreach (var (clinicId, stream) in await StreamsAsync(cancel))
        {
            await using var db = open(clinicId);
            isIntact &= await CheckStreamAsync(db, clinicId, stream, cancel);
        }

        foreach (var clinicId in await ClinicsAsync(cancel))
        {
            isIntact &= await CheckClinicAsync(clinicId, cancel);
        }

        isIntact &= await CheckAnchorsAsync(cancel);
        return await CheckCasesAsync(cancel) && isIntact;
    }

    private async Task<bool> CheckStreamAsync(ClinicContext db, Guid clinicId, string stream, CancellationToken cancel)
    {
        if (await check.FirstFaultAsync(db, stream, cancel) is { } fault)
        {
            await output.WriteLineAsync(FormattableString.Invariant($"NOT INTACT  {clinicId}/{stream}, entry {fault.Sequence}, {fault.Row}: {fault.Why}"));
            return false;
        }

        var head = await db.LedgerHeads.AsNoTracking().SingleAsync(one => one.Stream == stream, cancel);
        await output.WriteLineAsync($"{LedgerAnchor.Of(head)} intact");
        return true;
    }

    private async Task<bool> CheckClinicAsync(Guid clinicId, CancellationToken cancel)
    {
        await using var db = open(clinicId);
        foreach (var row in await LedgerCheck.InterventionsAsync(db, cancel))
        {
            await output.WriteLineAsync(FormattableString.Invariant($"{clinicId}/{row.Stream}/{row.Epoch}/{row.Number}  {row.Kind} by {row.ByName} at {row.At.ToDateTimeOffset():O}: {row.Body}"));
        }

        var faults = await check.FaultsOfClinicAsync(db, clinicId, cancel);
        foreach (var fault in faults)
        {
            await output.WriteLineAsync(FormattableString.Invariant($"NOT INTACT  clinic {clinicId}, {fault.Row}: {fault.Why}"));
        }

        return faults.Count == 0;
    }

    private async Task<bool> CheckAnchorsAsync(CancellationToken cancel)
    {
        var faults = 0;
        foreach (var anchor in anchors)
        {
            await using var db = open(anchor.ClinicId);
            if (await LedgerCheck.FaultAtAsync(db, anchor, cancel) is { } fault)
            {
                faults++;
                await output.WriteLineAsync($"NOT INTACT  {anchor}: {fault.Why}");
            }
        }

        if (anchors.Count > 0)
        {
            await output.WriteLineAsync(FormattableString.Invariant($"{anchors.Count} heads kept elsewhere checked: {(faults == 0 ? "the record has them all" : $"{faults} differ")}."));
        }

        return faults == 0;
    }

    private async Task<bool> CheckCasesAsync(CancellationToken cancel)
    {
        var cases = await CasesAsync(cancel);
        var (count, done, faults) = (cases.Count, 0, 0);
        await output.WriteLineAsync(FormattableString.Invariant($"Checking {count} cases …"));
        foreach (var (clinicId, caseId, number) in cases)
        {
            await using var db = open(clinicId);
            if (await check.FirstFaultOfCaseAsync(db, caseId, cancel) is { } fault)
            {
                faults++;
                await output.WriteLineAsync(FormattableString.Invariant($"NOT INTACT  case {number}, entry {fault.Sequence}, {fault.Row}: {fault.Why}"));
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

    // A stream is found by its entries as well, so that one whose head was taken away is missed.
    private async Task<List<(Guid ClinicId, string Stream)>> StreamsAsync(CancellationToken cancel)
    {
        await using var db = open(Guid.Empty);
        var keys = await db.LedgerHeads.IgnoreQueryFilters().Select(head => new { head.ClinicId, head.Stream })
            .Union(db.Ledger.IgnoreQueryFilters().Select(row => new { row.ClinicId, row.Stream }))
            .ToListAsync(cancel);
        return [.. keys.Select(key => (key.ClinicId, key.Stream)).Order()];
    }

    private async Task<List<Guid>> ClinicsAsync(CancellationToken cancel)
    {
        await using var db = open(Guid.Empty);
        return await db.Clinics.Select(clinic => clinic.Id).Union(db.Ledger.IgnoreQueryFilters().Select(row => row.ClinicId)).OrderBy(id => id).ToListAsync(cancel);
    }

    // Cases are found by their entries and by their rows, so that one of which either was taken away is missed.
    private async Task<List<(Guid ClinicId, Guid CaseId, string Number)>> CasesAsync(CancellationToken cancel)
    {
        await using var db = open(Guid.Empty);
        var numbers = await db.Cases.IgnoreQueryFilters().ToDictionaryAsync(c => new { c.ClinicId, c.CaseId }, c => c.CaseNumber, cancel);
        var keys = await db.Ledger.IgnoreQueryFilters().Where(row => row.SubjectKind == EntrySubjects.Case).Select(row => new { row.ClinicId, CaseId = row.SubjectId!.Value })
            .Union(db.Cases.IgnoreQueryFilters().Select(c => new { c.ClinicId, c.CaseId }))
            .ToListAsync(cancel);
        return [.. keys.Select(key => (key.ClinicId, key.CaseId, numbers.GetValueOrDefault(key) ?? key.CaseId.ToString()))];
    }
}
