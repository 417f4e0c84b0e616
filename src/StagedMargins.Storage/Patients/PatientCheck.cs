using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Core.Entries;
using StagedMargins.Core.Entries.Patients;
using StagedMargins.Storage.Ledger;

namespace StagedMargins.Storage.Patients;

/// <summary>Compares that by which patients are found with their entries.</summary>
/// <param name="keys">The keys of the ledger.</param>
public sealed class PatientCheck(LedgerKeys keys)
{
    /// <summary>Patients of the clinic in scope who would be found under another number than their entry says, or have no entry.</summary>
    /// <param name="db">The record.</param>
    /// <param name="clinicId">The clinic.</param>
    /// <param name="cancel">Ends the check.</param>
    public async Task<IReadOnlyList<LedgerFault>> FaultsAsync(ClinicContext db, Guid clinicId, CancellationToken cancel)
    {
        var entries = await db.Ledger.AsNoTracking().Where(row => row.SubjectKind == EntrySubjects.Patient && row.SubjectNumber == 1).ToDictionaryAsync(row => row.SubjectId!.Value, cancel);
        var rows = await db.DataKeys.AsNoTracking().Where(row => row.SubjectKind == EntrySubjects.Patient).ToListAsync(cancel);
        return [.. rows.Where(row => !Follows(row, entries.GetValueOrDefault(row.SubjectId)))
            .Select(row => new LedgerFault(entries.GetValueOrDefault(row.SubjectId)?.Number ?? 0, $"patient {row.SubjectId}", "The patient is not found as their entry says."))];

        bool Follows(DataKeyRow row, LedgerRow? added)
        {
            if (added is null)
            {
                return false;
            }

            try
            {
                var subject = row.Open(keys);
                var number = PatientAdded.Read(Encoding.UTF8.GetBytes(added.Body), subject).Number.Text;
                return subject.Key is not null && PatientPrints.Of(keys, row.WrappedBy, clinicId, number) is { } print && print.AsSpan().SequenceEqual(row.FoundBy);
            }
            catch (Exception e) when (e is JsonException or FormatException or CryptographicException)
            {
                return false;
            }
        }
    }
}
