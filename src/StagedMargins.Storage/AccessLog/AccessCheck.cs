using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Core.Entries;
using StagedMargins.Storage.Cases;
using StagedMargins.Storage.Ledger;

namespace StagedMargins.Storage.AccessLog;

/// <summary>Compares the openings of cases to the entries that they are computed from.</summary>
public static class AccessCheck
{
    private const int AtOnce = 500;
    private const string Table = "access_log";

    /// <summary>The first fault in the openings of the clinic in scope; null where there is none.</summary>
    public static async Task<LedgerFault?> FirstFaultAsync(ClinicContext db, Guid clinicId, CancellationToken cancel)
    {
        var (last, count) = (0L, 0);
        while (true)
        {
            var entries = await db.Ledger.AsNoTracking().Where(row => row.Stream == LedgerStreams.Access && row.Number > last).OrderBy(row => row.Number).Take(AtOnce).ToListAsync(cancel);
            if (entries.Count == 0)
            {
                return await db.AccessLog.CountAsync(cancel) == count ? null : new LedgerFault(last, Table, "There are openings that no entry holds.");
            }

            var to = entries[^1].Number;
            var rows = await db.AccessLog.AsNoTracking().Where(row => row.EntryNumber > last && row.EntryNumber <= to)
                .OrderBy(row => row.EntryNumber).ThenBy(row => row.Ordinal).ToListAsync(cancel);
            if (!TryMake(clinicId, entries, out var made) || made.Count != rows.Count || made.Zip(rows).Any(pair => !db.IsSame(pair.First, pair.Second)))
            {
                return new LedgerFault(last + 1, Table, "The openings are not those of their entries.");
            }

            (last, count) = (to, count + made.Count);
        }
    }

    private static bool TryMake(Guid clinicId, IReadOnlyList<LedgerRow> entries, out IReadOnlyList<AccessEntry> made)
    {
        try
        {
            made = [.. entries.SelectMany(entry => AccessEntry.AllOf(clinicId, entry.Number, entry.ReadPlain<CasesShown>(EntrySubjects.Access)))];
            return true;
        }
        catch (JsonException)
        {
            made = [];
            return false;
        }
    }
}
