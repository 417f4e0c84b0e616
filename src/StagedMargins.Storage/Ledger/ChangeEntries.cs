using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.ChangeTracking;
using StagedMargins.Core;
using StagedMargins.Core.Entries;
using StagedMargins.Core.Entries.Clinics;
using StagedMargins.Storage.Clinics;
using StagedMargins.Storage.People;

namespace StagedMargins.Storage.Ledger;

/// <summary>
/// Writes an entry for each change of accounts, settings, tokens and closed months, in the transaction that makes the change: whoever
/// changes one of these rows through the program can't forget it, and a row that was changed past the program has none.
/// </summary>
/// <param name="ledger">Seals entries.</param>
/// <param name="prints">Makes the fingerprints of credentials.</param>
/// <param name="clock">The clock.</param>
public sealed class ChangeEntries(LedgerWriter ledger, CredentialPrints prints, TimeProvider clock)
{
    /// <summary>Writes the entries of what was saved, in the transaction that saved it.</summary>
    /// <param name="db">The record, in a transaction.</param>
    /// <param name="changes">What was saved.</param>
    /// <param name="personId">Who is signed in; null where nobody is.</param>
    /// <param name="cancel">Ends the wait.</param>
    internal async Task AppendAsync(ClinicContext db, PendingChanges changes, Guid? personId, CancellationToken cancel)
    {
        var author = personId is { } id ? await AuthorAsync(db, id, cancel) : null;
        var now = clock.GetUtcNow();
        var requestId = Guid.CreateVersion7(now);
        foreach (var clinic in changes.OfClinics(prints).GroupBy(pair => pair.ClinicId, pair => pair.Event))
        {
            // The head is locked first: it is the queue in which the subject's next number is given.
            var head = await db.LockHeadAsync(clinic.Key, LedgerStreams.Record, cancel);
            await AppendAsync(db, head, [.. clinic], author ?? LedgerAuthor.Service, now, requestId, cancel);
        }

        foreach (var change in changes.OfAccounts)
        {
            var person = change.Added ?? await db.Users.SingleAsync(user => user.Id == change.PersonId, cancel);
            await AppendAsync(db, person, change, author, now, requestId, cancel);
        }
    }

    /// <summary>Writes that the record of a clinic was restored from a backup: the first entry of a new epoch. Saves it.</summary>
    /// <param name="db">The record, with the clinic in scope, in a transaction.</param>
    /// <param name="clinicId">The clinic.</param>
    /// <param name="backupMadeAt">When the backup was made.</param>
    /// <param name="cancel">Ends the work.</param>
    public async Task BeginEpochAsync(ClinicContext db, Guid clinicId, DateTimeOffset backupMadeAt, CancellationToken cancel)
    {
        var locked = await db.LockHeadAsync(clinicId, LedgerStreams.Record, cancel);
        locked.Head.Epoch++;
        var restored = new RecordRestored(ClinicalTime.From(backupMadeAt), locked.Head.Number);
        var now = clock.GetUtcNow();
        await AppendAsync(db, locked, [restored], LedgerAuthor.Service, now, Guid.CreateVersion7(now), cancel);
    }

    /// <summary>
    /// Lets writing go on where streams of a clinic do not end where their heads say: each head is set to the last entry that is there,
    /// and an entry says so. Saves it.
    /// </summary>
    /// <param name="db">The record, with the clinic in scope, in a transaction.</param>
    /// <param name="clinicId">The clinic.</param>
    /// <param name="personId">The administrator.</param>
    /// <param name="reason">Why writing may go on.</param>
    /// <param name="cancel">Ends the work.</param>
    /// <returns>What was accepted; empty where every stream ends where its head says.</returns>
    public async Task<IReadOnlyList<RecordEndAccepted>> AcceptEndsAsync(ClinicContext db, Guid clinicId, Guid personId, string reason, CancellationToken cancel)
    {
        var accepted = new List<RecordEndAccepted>();
        foreach (var stream in (string[])[LedgerStreams.Record, LedgerStreams.Access])
        {
            var locked = await db.LockHeadAsync(clinicId, stream, cancel);
            if (!locked.EndsAtHead)
            {
                var (head, number, hash) = (locked.Head, locked.LastNumber, locked.LastHash);
                accepted.Add(new RecordEndAccepted(stream, head.Number, Convert.ToHexStringLower(head.Hash), number, Convert.ToHexStringLower(hash), reason));
                (head.Number, head.Hash) = (number, hash);
                await db.WriteHeadAsync(locked, cancel);
            }
        }

        if (accepted.Count > 0)
        {
            var (now, head) = (clock.GetUtcNow(), await db.LockHeadAsync(clinicId, LedgerStreams.Record, cancel));
            await AppendAsync(db, head, accepted, await AuthorAsync(db, personId, cancel), now, Guid.CreateVersion7(now), cancel);
        }

        return accepted;
    }

    private async Task AppendAsync(
        ClinicContext db, LockedHead head, IReadOnlyList<ClinicEvent> events, LedgerAuthor author, DateTimeOffset now, Guid requestId, CancellationToken cancel)
    {
        var clinicId = head.Head.ClinicId;
        var count = await db.Ledger.IgnoreQueryFilters().CountAsync(row => row.ClinicId == clinicId && row.SubjectKind == EntrySubjects.Clinic, cancel);
        await AppendAsync(db, head, new LedgerSubject(EntrySubjects.Clinic, clinicId, count), events, author, now, requestId, cancel);
    }

    // Whoever is not signed in acts for themselves: with a one-time code, a recovery code, or at the organisation's provider.
    private async Task AppendAsync(
        ClinicContext db, Person person, AccountChange change, LedgerAuthor? author, DateTimeOffset now, Guid requestId, CancellationToken cancel)
    {
        var head = await db.LockHeadAsync(person.ClinicId, LedgerStreams.Record, cancel);
        var (before, count) = await db.AccountAsync(person.Id, cancel);
        var roleNames = await db.Roles.ToDictionaryAsync(role => role.Id, role => role.Name!, cancel);
        author ??= change.Added is null ? LedgerAuthor.Person(person.Id, person.DisplayName, person.Email!) : LedgerAuthor.Service;
        var events = AccountEntries.EventsOf(change, before, roleNames, prints);
        await AppendAsync(db, head, new LedgerSubject(EntrySubjects.Person, person.Id, count), events, author, now, requestId, cancel);
    }

    // The subject is given with the number of its last entry.
    private async Task AppendAsync(
        ClinicContext db, LockedHead head, LedgerSubject subject, IEnumerable<PlainEvent> events, LedgerAuthor author, DateTimeOffset now, Guid requestId, CancellationToken cancel)
    {
        var at = (await db.Clinics.FindAsync([head.Head.ClinicId], cancel))!.At(now);
        var entries = events.Select((made, i) => new UnsealedEntry(
            subject with { Number = subject.Number + i + 1 }, made.EntryKind, author, at, null, EntryJson.WritePlain(made.EntryKind, made)));
        await ledger.AppendAsync(db, head, [.. entries], requestId, cancel);
    }

    private static async Task<LedgerAuthor> AuthorAsync(ClinicContext db, Guid id, CancellationToken cancel) =>
        await db.Users.Where(person => person.Id == id).Select(person => new { person.DisplayName, person.Email }).SingleOrDefaultAsync(cancel) is { } known
            ? LedgerAuthor.Person(id, known.DisplayName, known.Email!)
            : new LedgerAuthor(id, await db.ApiTokens.Where(token => token.Id == id).Select(token => token.Name).SingleAsync(cancel));
}

/// <summary>What is about to be saved that has entries.</summary>
internal sealed class PendingChanges
{
    private readonly List<EntityEntry> changed;

    private PendingChanges(ClinicContext db)
    {
        changed = [.. db.ChangeTracker.Entries().Where(entry => entry.State is EntityState.Added or EntityState.Modified or EntityState.Deleted)];
        OfAccounts = [.. AccountChange.In(changed)];
    }

    /// <summary>Changes of accounts.</summary>
    internal IReadOnlyList<AccountChange> OfAccounts { get; }

    /// <summary>True where nothing of it has entries.</summary>
    internal bool IsEmpty => OfAccounts.Count == 0 && !changed.Any(ClinicEntries.IsOnRecord);

    /// <summary>What a context is about to save.</summary>
    internal static PendingChanges In(ClinicContext db) => new(db);

    /// <summary>Changes of clinics.</summary>
    internal IEnumerable<(Guid ClinicId, ClinicEvent Event)> OfClinics(CredentialPrints prints) => ClinicEntries.EventsIn(changed, prints);
}
