using StagedMargins.Storage;
using StagedMargins.Storage.Ledger;
using StagedMargins.Web.Hosting;

namespace StagedMargins.Web.Writing;

/// <summary>Checks the record of one case, as of one moment.</summary>
/// <param name="db">The record.</param>
/// <param name="check">Checks seals and what is computed.</param>
public sealed class HistoryCheck(ClinicContext db, LedgerCheck check)
{
    /// <summary>The first fault of a case of the clinic in scope, or null where all is as it was written.</summary>
    public Task<LedgerFault?> FirstFaultAsync(Guid caseId, CancellationToken cancel) =>
        db.InReadSnapshotAsync(() => check.FirstFaultOfCaseAsync(db, caseId, cancel), cancel);
}
