using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Core;
using StagedMargins.Core.Entries;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Storage.Ledger;

/// <summary>An entry that was decided for a case, with whoever writes it here.</summary>
/// <param name="Event">What was decided.</param>
/// <param name="By">Who writes it, by the name and address of now.</param>
/// <param name="At">When it is written.</param>
/// <param name="Origin">Where it came from, where it is imported.</param>
public sealed record EntryToWrite(CaseEvent Event, LedgerAuthor By, ClinicalTime At, EntryOrigin? Origin = null);

/// <summary>Seals entries at the end of a clinic's record.</summary>
/// <param name="keys">The keys.</param>
public sealed class LedgerWriter(LedgerKeys keys)
{
    /// <summary>Adds entries of a case, to be saved with the transaction at hand. Other writers of the clinic wait until it ends.</summary>
    /// <param name="db">The record, in a transaction.</param>
    /// <param name="changed">The case, with the entries applied.</param>
    /// <param name="entries">The entries, in the order in which they were applied last.</param>
    /// <param name="requestId">What one request writes belongs together.</param>
    /// <param name="cancel">Ends the wait.</param>
    /// <returns>The case with its data key.</returns>
    /// <exception cref="RuleViolationException">The data key of the case was forgotten.</exception>
    /// <exception cref="LedgerDiffersException">The end of the record is not where its head says.</exception>
    public async Task<SubjectKey> AppendAsync(ClinicContext db, SurgicalCase changed, IReadOnlyList<EntryToWrite> entries, Guid requestId, CancellationToken cancel)
    {
        var head = await db.LockHeadAsync(changed.ClinicId, LedgerStreams.Record, cancel);
        await GuardHeadAsync(db, head, cancel);
        var subjectNumber = changed.Version - entries.Count;
        var subject = await db.Keys.ForWritingAsync(db, changed.ClinicId, changed.Id, isNew: subjectNumber == 0, cancel);
        if (subject.Key is null)
        {
            throw new RuleViolationException("forgotten", "What was written about this patient was forgotten, so nothing can be added to the case.");
        }

        foreach (var entry in entries)
        {
            var kind = entry.Event.EntryKind;
            var unsealed = new LedgerEntry(
                changed.ClinicId,
                head.Stream,
                head.Epoch,
                head.Number + 1,
                new LedgerSubject(LedgerSubjects.Case, changed.Id, ++subjectNumber),
                kind.Word,
                kind.Form,
                requestId,
                entry.At,
                entry.By,
                entry.Origin is null ? null : JsonSerializer.Serialize(entry.Origin, EntryJson.Options),
                EntryJson.Write(entry.Event, subject));
            var hash = EntrySeal.Compute(unsealed, head.Hash, keys.CurrentId, keys.Find(keys.CurrentId)!);
            db.Add(LedgerRow.Of(new SealedEntry(unsealed, head.Hash, keys.CurrentId, hash)));
            (head.Number, head.Hash) = (unsealed.Number, hash);
        }

        return subject;
    }

    // A head that was moved, or an end that was cut off, must not be built upon.
    private static async Task GuardHeadAsync(ClinicContext db, LedgerHead head, CancellationToken cancel)
    {
        if (db.Entry(head).State == EntityState.Added && head.Number == 0)
        {
            return;
        }

        var last = await db.Ledger.Where(row => row.ClinicId == head.ClinicId && row.Stream == head.Stream)
            .OrderByDescending(row => row.Epoch).ThenByDescending(row => row.Number)
            .Select(row => new { row.Epoch, row.Number, row.Hash })
            .FirstOrDefaultAsync(cancel);
        if (last is null ? head.Number != 0 : last.Number != head.Number || !last.Hash.AsSpan().SequenceEqual(head.Hash))
        {
            throw new LedgerDiffersException();
        }
    }
}

/// <summary>The end of a clinic's record is not where its head says: entries were cut off, put in, or the head was moved.</summary>
public sealed class LedgerDiffersException() : Exception("The end of the record is not where it was last sealed.");
