using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Caching.Memory;
using StagedMargins.Core.Entries;

namespace StagedMargins.Storage.Ledger;

/// <summary>
/// The data keys of subjects, unwrapped. Kept in memory for a minute at most, so that a key which another copy of the service
/// deleted is forgotten here, too.
/// </summary>
/// <param name="keys">The keys of the ledger, which wrap them.</param>
public sealed class SubjectKeys(LedgerKeys keys) : IDisposable
{
    private const int MostKept = 20_000;
    private static readonly TimeSpan KeptFor = TimeSpan.FromMinutes(1);
    private readonly MemoryCache kept = new(new MemoryCacheOptions { SizeLimit = MostKept });

    /// <summary>A case with its data key, which is null where it was forgotten.</summary>
    /// <param name="db">The record, with the clinic in scope.</param>
    /// <param name="clinicId">The clinic.</param>
    /// <param name="caseId">The case.</param>
    /// <param name="cancel">Ends the wait.</param>
    public async Task<SubjectKey> OfCaseAsync(ClinicContext db, Guid clinicId, Guid caseId, CancellationToken cancel) =>
        (await OfCasesAsync(db, clinicId, [caseId], cancel))[caseId];

    /// <summary>Cases with their data keys.</summary>
    /// <inheritdoc cref="OfCaseAsync"/>
    public async Task<IReadOnlyDictionary<Guid, SubjectKey>> OfCasesAsync(ClinicContext db, Guid clinicId, IReadOnlyCollection<Guid> caseIds, CancellationToken cancel)
    {
        var missing = caseIds.Where(id => !kept.TryGetValue((clinicId, id), out _)).ToList();
        if (missing.Count > 0)
        {
            var rows = await db.DataKeys.AsNoTracking().Where(row => row.SubjectKind == EntrySubjects.Case && missing.Contains(row.SubjectId)).ToListAsync(cancel);
            foreach (var row in rows)
            {
                Keep(row.Open(keys));
            }
        }

        return caseIds.Distinct().ToDictionary(id => id, id => kept.Get<SubjectKey>((clinicId, id)) ?? new SubjectKey(clinicId, EntrySubjects.Case, id, null));
    }

    /// <summary>The key of a case that entries are added to, made where the case is new; saves nothing.</summary>
    /// <inheritdoc cref="OfCaseAsync"/>
    /// <param name="db">The record, in a transaction.</param>
    /// <param name="clinicId">The clinic.</param>
    /// <param name="caseId">The case.</param>
    /// <param name="isNew">True where the case has no entry yet.</param>
    /// <param name="cancel">Ends the wait.</param>
    public async Task<SubjectKey> ForWritingAsync(ClinicContext db, Guid clinicId, Guid caseId, bool isNew, CancellationToken cancel)
    {
        if (!isNew)
        {
            return await OfCaseAsync(db, clinicId, caseId, cancel);
        }

        // A request that is tried again makes the key again; only what is saved counts, so it is not kept in memory before.
        if (db.DataKeys.Local.FirstOrDefault(row => row.ClinicId == clinicId && row.SubjectKind == EntrySubjects.Case && row.SubjectId == caseId) is { } made)
        {
            return made.Open(keys);
        }

        return Make(db, clinicId, EntrySubjects.Case, caseId, foundBy: null);
    }

    /// <summary>The key of a new subject; saves nothing.</summary>
    internal SubjectKey Make(ClinicContext db, Guid clinicId, string kind, Guid id, byte[]? foundBy)
    {
        var key = DataKey.Create();
        db.Add(new DataKeyRow
        {
            ClinicId = clinicId,
            SubjectKind = kind,
            SubjectId = id,
            WrappedBy = keys.CurrentId,
            Wrapped = key.Wrap(clinicId, kind, id, keys.FindWrapping(keys.CurrentId)),
            FoundBy = foundBy,
        });
        return new SubjectKey(clinicId, kind, id, key);
    }

    /// <inheritdoc/>
    public void Dispose() => kept.Dispose();

    private void Keep(SubjectKey subject) =>
        kept.Set((subject.ClinicId, subject.Id), subject, new MemoryCacheEntryOptions { AbsoluteExpirationRelativeToNow = KeptFor, Size = 1 });
}
