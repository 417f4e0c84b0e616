using System.Collections.Concurrent;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Storage;
using StagedMargins.Storage.Clinics;
using StagedMargins.Storage.Ledger;

namespace StagedMargins.Web.Writing;

/// <summary>A clinic and its people as they are now.</summary>
/// <param name="Clinic">The clinic, for its settings.</param>
/// <param name="People">Its people.</param>
/// <param name="Number">The number of the last entry about either; they hold as long as the head of the record says the same.</param>
public sealed record PresentClinic(Clinic Clinic, ClinicPeople People, long Number);

/// <summary>
/// Clinics and their people, kept in memory for writers, who compare the number with the head of the record before they write anything
/// that was decided by them.
/// </summary>
public sealed class PresentClinics
{
    private readonly ConcurrentDictionary<Guid, PresentClinic> kept = [];

    /// <summary>A clinic as it was read last: for a writer, who compares its number with the head.</summary>
    /// <param name="db">The record, with the clinic in scope.</param>
    /// <param name="clinicId">The clinic.</param>
    /// <param name="isStale">True where what is kept has been seen to hold no longer.</param>
    /// <param name="cancel">Ends the wait.</param>
    public async ValueTask<PresentClinic> FindAsync(ClinicContext db, Guid clinicId, bool isStale, CancellationToken cancel) =>
        !isStale && kept.TryGetValue(clinicId, out var known) ? known : await ReadAsync(db, clinicId, cancel);

    /// <summary>A clinic as it is.</summary>
    /// <param name="db">The record, with the clinic in scope.</param>
    /// <param name="clinicId">The clinic.</param>
    /// <param name="number">The number of the last entry about it or its people, which has just been read.</param>
    /// <param name="cancel">Ends the wait.</param>
    public async ValueTask<PresentClinic> FindAsync(ClinicContext db, Guid clinicId, long number, CancellationToken cancel) =>
        kept.TryGetValue(clinicId, out var known) && known.Number == number ? known : await ReadAsync(db, clinicId, cancel);

    private async Task<PresentClinic> ReadAsync(ClinicContext db, Guid clinicId, CancellationToken cancel)
    {
        // The number first: what changes while the rest is read makes the number too old, and is read again.
        var number = await db.AdministeredAtAsync(clinicId, cancel);
        var clinic = await db.Clinics.AsNoTracking().SingleAsync(one => one.Id == clinicId, cancel);
        return kept[clinicId] = new PresentClinic(clinic, await ClinicPeople.LoadAsync(db, clinicId, cancel), number);
    }
}
