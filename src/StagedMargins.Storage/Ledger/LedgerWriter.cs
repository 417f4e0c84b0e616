using System.Text.Json;
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

/// <summary>An entry of any subject, ready to be sealed.</summary>
/// <param name="Subject">What it is about; null in the stream of accesses.</param>
/// <param name="Kind">Its kind.</param>
/// <param name="By">Who writes it, by the name and address of now.</param>
/// <param name="At">When it is written.</param>
/// <param name="Origin">Where it came from, where it is imported, as JSON.</param>
/// <param name="Body">Its body.</param>
public sealed record UnsealedEntry(LedgerSubject? Subject, EntryKind Kind, LedgerAuthor By, ClinicalTime At, string? Origin, byte[] Body);

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
        var first = changed.Version - entries.Count + 1;
        var subject = await db.Keys.ForWritingAsync(db, changed.ClinicId, changed.Id, isNew: first == 1, cancel);
        if (subject.Key is null)
        {
            throw new RuleViolationException("forgotten", "What was written about this patient was forgotten, so nothing can be added to the case.");
        }

        var unsealed = entries.Select((entry, i) => new UnsealedEntry(
            new LedgerSubject(EntrySubjects.Case, changed.Id, first + i),
            entry.Event.EntryKind,
            entry.By,
            entry.At,
            entry.Origin is null ? null : JsonSerializer.Serialize(entry.Origin, EntryJson.Options),
            EntryJson.Write(entry.Event, subject)));
        await AppendAsync(db, changed.ClinicId, LedgerStreams.Record, unsealed, requestId, cancel);
        return subject;
    }

    /// <summary>Adds entries of any subjects, to be saved with the transaction at hand. Other writers of the stream wait until it ends.</summary>
    /// <param name="db">The record, in a transaction.</param>
    /// <param name="clinicId">The clinic.</param>
    /// <param name="stream">The stream.</param>
    /// <param name="entries">The entries, in order.</param>
    /// <param name="requestId">What one request writes belongs together.</param>
    /// <param name="cancel">Ends the wait.</param>
    /// <returns>The number of the last of them.</returns>
    /// <exception cref="LedgerDiffersException">The end of the record is not where its head says.</exception>
    public async Task<long> AppendAsync(ClinicContext db, Guid clinicId, string stream, IEnumerable<UnsealedEntry> entries, Guid requestId, CancellationToken cancel)
    {
        var head = await db.LockHeadAsync(clinicId, stream, cancel);
        if (head.MinWriter > LedgerLevel.Present)
        {
            throw new NewerRecordException();
        }

        (head.MinWriter, head.MinReader) = (Math.Max(head.MinWriter, LedgerLevel.Writer), Math.Max(head.MinReader, LedgerLevel.Reader));
        if (!await db.EndsAtHeadAsync(head, cancel))
        {
            throw new LedgerDiffersException();
        }

        // A restore begins an epoch in the record; the stream of accesses goes along with its next entry.
        if (stream == LedgerStreams.Access)
        {
            head.Epoch = Math.Max(head.Epoch, await db.EpochAsync(clinicId, cancel));
        }

        foreach (var entry in entries)
        {
            var unsealed = new LedgerEntry(
                clinicId, stream, head.Epoch, head.Number + 1, entry.Subject, entry.Kind.Word, entry.Kind.Form, requestId, entry.At, entry.By, entry.Origin, entry.Body);
            var hash = EntrySeal.Compute(unsealed, head.Hash, keys.CurrentId, keys.Find(keys.CurrentId)!);
            db.Add(LedgerRow.Of(new SealedEntry(unsealed, head.Hash, keys.CurrentId, hash)));
            (head.Number, head.Hash) = (unsealed.Number, hash);
        }

        return head.Number;
    }
}

/// <summary>Nothing can be written to a stream, whatever is sent.</summary>
/// <param name="message">Why.</param>
public abstract class LedgerClosedException(string message) : Exception(message);

/// <summary>The end of a clinic's record is not where its head says: entries were cut off, put in, or the head was moved.</summary>
public sealed class LedgerDiffersException() : LedgerClosedException("The end of the record is not where it was last sealed.");

/// <summary>A newer version of the program writes this record, in forms that this one would break.</summary>
public sealed class NewerRecordException() : LedgerClosedException("A newer version of the program writes this record.");
