using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Core;
using StagedMargins.Core.Mapping;
using StagedMargins.Storage;
using StagedMargins.Storage.Cases;
using StagedMargins.Storage.History;
using StagedMargins.Web.Contract;
using StagedMargins.Web.Hosting;

namespace StagedMargins.Web.Writing;

/// <summary>Checks the record of one case.</summary>
/// <param name="db">The record.</param>
/// <param name="chain">Checks seals.</param>
public sealed class HistoryCheck(ClinicContext db, HistoryChain chain)
{
    /// <summary>The first fault of a case of the clinic in scope, or null where all is as it was written.</summary>
    public Task<ChainFault?> FirstFaultAsync(Guid caseId, CancellationToken cancel) => db.InReadSnapshotAsync(() => CheckAsync(caseId, cancel), cancel);

    private async Task<ChainFault?> CheckAsync(Guid caseId, CancellationToken cancel)
    {
        db.ChangeTracker.Clear();
        var history = await db.History.AsNoTracking().Where(row => row.CaseId == caseId).OrderBy(row => row.Sequence).ToListAsync(cancel);
        try
        {
            return await db.FindCaseAsync(caseId, cancel) is { } found
                ? chain.FirstFault(db, found, history) ?? await FirstPhotoFaultAsync(found, history, cancel)
                : new ChainFault(history.Count, "cases", "The case is missing, but its history exists.");
        }
        catch (Exception e) when (e is JsonException or FormatException or InvalidEntryException or ArgumentOutOfRangeException)
        {
            return new ChainFault(history.Count, "record", "A row of this case can't be read.");
        }
    }

    // The history seals the digest of a photo; the file is as it was written where it gives that digest.
    private async Task<ChainFault?> FirstPhotoFaultAsync(SurgicalCase surgicalCase, IReadOnlyList<HistoryEntry> history, CancellationToken cancel)
    {
        foreach (var photo in surgicalCase.SitePhotos)
        {
            var file = await db.FindSitePhotoFileAsync(surgicalCase.Id, photo.Ordinal, cancel);
            if (file?.Digest() != photo.Sha256)
            {
                var sequence = history.Where(row => row.What == PhotoAdded.What).ElementAt(photo.Ordinal - 1).Sequence;
                return new ChainFault(sequence, $"site_photos {photo.Ordinal}", "The file of a photo was changed after it was written.");
            }
        }

        return null;
    }
}
