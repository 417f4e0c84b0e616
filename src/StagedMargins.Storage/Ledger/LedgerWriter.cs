using System.Text.Json;
using StagedMargins.Core;
using StagedMargins.Core.Entries;
using StagedMargins.Core.Mapping;
using StagedMargins.Storage.Answers;
using StagedMargins.Storage.Cases;

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

/// <summary>Seals entries at the end of a clinic's record and writes them, in the transaction at hand.</summary>
/// <param name="keys">The keys.</param>
public sealed class LedgerWriter(LedgerKeys keys)
{
    /// <summary>Writes entries of a case, with what is computed from it. Other writers of the clinic wait until the transaction ends.</summary>
    /// <param name="db">The record, in a transaction.</param>
    /// <param name="changed">The case, with the entries applied.</param>
    /// <param name="entries">The entries, in the order in which they were applied last.</param>
    /// <param name="requestId">What one request writes belongs together.</param>
    /// <param name="cancel">Ends the wait.</param>
    /// <param name="decidedAt">The number of the last entry about the clinic or its people of which the decision knew; null where it read them in this transaction.</param>
    /// <param name="answer">What is kept of the request under its idempotency key.</param>
    /// <param name="patient">The entry that adds the patient, where they are new; it comes first.</param>
    /// <returns>The entries as they are read from now on.</returns>
    /// <exception cref="RuleViolationException">The data key of the case was forgotten.</exception>
    /// <exception cref="LedgerClosedException">Nothing can be written to the record.</exception>
    /// <exception cref="ClinicChangedException">The clinic or its people changed since they were read.</exception>
    public async Task<IReadOnlyList<KnownEntry>> AppendAsync(
        ClinicContext db, SurgicalCase changed, IReadOnlyList<EntryToWrite> entries, Guid requestId, CancellationToken cancel, long? decidedAt = null, KeptAnswer? answer = null, UnsealedEntry? patient = null)
    {
        var before = changed.Version - entries.Count;
        var subject = await db.Keys.ForWritingAsync(db, changed.ClinicId, changed.Id, isNew: before == 0, cancel);
        if (subject.Key is null)
        {
            throw new RuleViolationException("forgotten", "What was written about this patient was forgotten, so nothing can be added to the case.");
        }

        var unsealed = entries.Select((entry, i) => new UnsealedEntry(
            new LedgerSubject(EntrySubjects.Case, changed.Id, before + i + 1),
            entry.Event.EntryKind,
            entry.By,
            entry.At,
            entry.Origin is null ? null : JsonSerializer.Serialize(entry.Origin, EntryJson.Options),
            EntryJson.Write(entry.Event, subject))).ToList();

        var statements = new Statements(db);
        db.AddRowsOf(changed, subject, entries[^1].At.Utc, statements);
        if (answer is not null)
        {
            statements.Add(TableSql.Of<KeptAnswer>(db).Insert(answer));
        }

        var head = await db.LockHeadAsync(changed.ClinicId, LedgerStreams.Record, cancel);
        if (decidedAt is { } known && head.Head.AdministeredAt != known)
        {
            throw new ClinicChangedException();
        }

        var written = await AppendAsync(db, head, patient is null ? unsealed : [patient, .. unsealed], requestId, statements, cancel);
        return [.. written.TakeLast(entries.Count).Zip(entries, (row, entry) => new KnownEntry(row.Number, row.SubjectNumber!.Value, row.Hash, entry.At, entry.By, entry.Origin, entry.Event, row.Body.Length))];
    }

    /// <summary>Writes entries of any subjects. Other writers of the stream wait until the transaction ends.</summary>
    /// <param name="db">The record, in a transaction.</param>
    /// <param name="head">The end of the stream.</param>
    /// <param name="entries">The entries, in order.</param>
    /// <param name="requestId">What one request writes belongs together.</param>
    /// <param name="cancel">Ends the wait.</param>
    /// <returns>The number of the last of them.</returns>
    /// <exception cref="LedgerClosedException">Nothing can be written to the stream.</exception>
    public async Task<long> AppendAsync(ClinicContext db, LockedHead head, IReadOnlyList<UnsealedEntry> entries, Guid requestId, CancellationToken cancel) =>
        (await AppendAsync(db, head, entries, requestId, new Statements(db), cancel))[^1].Number;

    private async Task<IReadOnlyList<LedgerRow>> AppendAsync(
        ClinicContext db, LockedHead locked, IReadOnlyList<UnsealedEntry> entries, Guid requestId, Statements statements, CancellationToken cancel)
    {
        var head = locked.Head;
        if (head.MinWriter > LedgerLevel.Present)
        {
            throw new NewerRecordException();
        }

        if (!locked.EndsAtHead)
        {
            throw new LedgerDiffersException();
        }

        // A restore begins an epoch in the record; the stream of accesses goes along with its next entry.
        if (head.Stream == LedgerStreams.Access)
        {
            head.Epoch = Math.Max(head.Epoch, await db.EpochAsync(head.ClinicId, cancel));
        }

        var sql = TableSql.Of<LedgerRow>(db);
        var rows = new List<LedgerRow>(entries.Count);
        foreach (var entry in entries)
        {
            var unsealed = new LedgerEntry(
                head.ClinicId, head.Stream, head.Epoch, head.Number + 1, entry.Subject, entry.Kind.Word, entry.Kind.Form, requestId, entry.At, entry.By, entry.Origin, entry.Body);
            var hash = EntrySeal.Compute(unsealed, head.Hash, keys.CurrentId, keys.Find(keys.CurrentId)!);
            rows.Add(LedgerRow.Of(new SealedEntry(unsealed, head.Hash, keys.CurrentId, hash)));
            statements.Add(sql.Insert(rows[^1]));
            (head.Number, head.Hash) = (unsealed.Number, hash);
            if (entry.Subject is { Kind: EntrySubjects.Clinic or EntrySubjects.Person })
            {
                head.AdministeredAt = unsealed.Number;
            }
        }

        (head.MinWriter, head.MinReader) = (Math.Max(head.MinWriter, LedgerLevel.Writer), Math.Max(head.MinReader, LedgerLevel.Reader));
        locked.AddTo(statements, db);
        await statements.ExecuteAsync(cancel);
        return rows;
    }
}

/// <summary>Nothing can be written to a stream, whatever is sent.</summary>
/// <param name="message">Why.</param>
public abstract class LedgerClosedException(string message) : Exception(message);

/// <summary>The end of a clinic's record is not where its head says: entries were cut off, put in, or the head was moved.</summary>
public sealed class LedgerDiffersException() : LedgerClosedException("The end of the record is not where it was last sealed.");

/// <summary>A newer version of the program writes this record, in forms that this one would break.</summary>
public sealed class NewerRecordException() : LedgerClosedException("A newer version of the program writes this record.");

/// <summary>Settings or people of a clinic changed between reading them and writing what was decided by them; to be decided again.</summary>
public sealed class ClinicChangedException() : Exception("The clinic's settings or people have just changed.");
