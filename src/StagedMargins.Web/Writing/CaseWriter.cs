using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Storage;
using Microsoft.Extensions.Primitives;
using StagedMargins.Core;
using StagedMargins.Core.Entries;
using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;
using StagedMargins.Storage;
using StagedMargins.Storage.Answers;
using StagedMargins.Storage.Audit;
using StagedMargins.Storage.Cases;
using StagedMargins.Storage.Clinics;
using StagedMargins.Storage.Ledger;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Problems;

namespace StagedMargins.Web.Writing;

/// <summary>What a write gives back.</summary>
/// <param name="Status">HTTP status.</param>
/// <param name="Body">What is sent as JSON.</param>
/// <param name="Location">Where what was made is found.</param>
public sealed record WriteResult(int Status, object Body, string? Location = null);

/// <summary>What a change works with.</summary>
/// <param name="Case">The case, to be changed by its verbs.</param>
/// <param name="Clinic">The clinic, for its settings.</param>
/// <param name="People">The people of the clinic.</param>
/// <param name="ById">Who does it.</param>
/// <param name="At">When it is written.</param>
public sealed record Change(SurgicalCase Case, Clinic Clinic, ClinicPeople People, Guid ById, ClinicalTime At)
{
    /// <summary>The clinic's overlap.</summary>
    public Overlap Overlap => Clinic.Overlap;
}

/// <summary>
/// The one way to write to a case: in one transaction its entries, what is computed from them and the answer kept under an
/// idempotency key, or nothing at all. One writer at a time per case.
/// </summary>
/// <param name="db">The record.</param>
/// <param name="ledger">Seals each entry.</param>
/// <param name="events">Tells who listens.</param>
/// <param name="limiter">Where writers of a file wait.</param>
/// <param name="clock">The clock.</param>
/// <param name="http">The request, for its headers.</param>
public sealed class CaseWriter(ClinicContext db, LedgerWriter ledger, CaseEvents events, SqliteWriteLimiter limiter, TimeProvider clock, IHttpContextAccessor http)
{
    private const int Attempts = 8;

    private HttpContext Http => http.HttpContext!;

    /// <summary>Opens a case.</summary>
    /// <param name="person">Who.</param>
    /// <param name="entry">What was entered, for the key.</param>
    /// <param name="open">Makes the case from what is given, under a number that is free.</param>
    /// <param name="wantedNumber">The number asked for, or null to have one made.</param>
    /// <param name="answer">The answer for the new case.</param>
    /// <param name="cancel">Ends the wait.</param>
    public Task<IResult> OpenAsync(
        CurrentPerson person,
        object entry,
        string? wantedNumber,
        Func<string, Clinic, ClinicPeople, ClinicalTime, SurgicalCase> open,
        Func<Change, WriteResult> answer,
        CancellationToken cancel) => AtomicallyAsync(
        null,
        person,
        entry,
        async (clinic, at) =>
        {
            var people = await ClinicPeople.LoadAsync(db, person.ClinicId, cancel);
            var number = await FreeNumberAsync(clinic, wantedNumber, at, cancel);
            var opened = open(number, clinic, people, at);
            return Written.Of(opened, answer(new Change(opened, clinic, people, person.Id, at)), people.AuthorOf(person.Id));
        },
        cancel);

    /// <summary>Changes a case.</summary>
    /// <param name="caseId">Which.</param>
    /// <param name="person">Who.</param>
    /// <param name="entry">What was entered, for the key.</param>
    /// <param name="change">Does it by the verbs of the case and gives the answer.</param>
    /// <param name="cancel">Ends the wait.</param>
    /// <param name="addsStage">True where a stage is added, which must be the one that the sender had in mind.</param>
    /// <param name="photo">The file of a photo that is added.</param>
    public async Task<IResult> ChangeAsync(
        Guid caseId,
        CurrentPerson person,
        object entry,
        Func<Change, WriteResult> change,
        CancellationToken cancel,
        bool addsStage = false,
        BarePicture? photo = null)
    {
        var seenStages = addsStage ? await StageCountAsync(caseId, cancel) : null;
        return await AtomicallyAsync(
            caseId,
            person,
            entry,
            async (clinic, at) =>
            {
                var people = await ClinicPeople.LoadAsync(db, person.ClinicId, cancel);
                var changed = await db.FindCaseAsync(caseId, cancel) ?? throw new NotInRecordException("Case not found.");
                GuardVersion(changed.Version);
                if (addsStage && changed.Stages.Count != seenStages)
                {
                    throw new RuleViolationException("stageRecordedMeanwhile", $"Someone else recorded stage {changed.Stages.Count} at the same moment. Check it before recording another.");
                }

                if (photo is not null)
                {
                    await db.KeepPhotographAsync(await db.Keys.OfCaseAsync(db, clinic.Id, caseId, cancel), photo, cancel);
                }

                return Written.Of(changed, change(new Change(changed, clinic, people, person.Id, at)), people.AuthorOf(person.Id));
            },
            cancel);
    }

    /// <summary>Takes a case over from another record.</summary>
    /// <param name="person">Who.</param>
    /// <param name="note">What is taken over, for the last entry and the key.</param>
    /// <param name="caseId">The case's number in the service.</param>
    /// <param name="wantedNumber">The number that the case is to have in the clinic.</param>
    /// <param name="import">Makes the case and its entries; the note follows as the last one.</param>
    /// <param name="cancel">Ends the wait.</param>
    public Task<IResult> ImportAsync(
        CurrentPerson person, CaseImported note, Guid caseId, string wantedNumber, Func<Clinic, LedgerAuthor, ClinicalTime, Task<(SurgicalCase Case, IReadOnlyList<EntryToWrite> Entries, WriteResult Result)>> import, CancellationToken cancel) => AtomicallyAsync(
        null,
        person,
        note,
        async (clinic, at) =>
        {
            if (await db.Cases.AnyAsync(c => c.CaseId == caseId, cancel))
            {
                throw new RuleViolationException("caseHere", $"This case already exists, at /api/cases/{caseId}. Nothing was changed.");
            }

            await FreeNumberAsync(clinic, wantedNumber, at, cancel);
            var by = (await ClinicPeople.LoadAsync(db, person.ClinicId, cancel)).AuthorOf(person.Id);
            var (imported, entries, answer) = await import(clinic, by, at);
            imported.NoteImport(note, person.Id, at);
            return new Written(answer, imported, [.. entries, new EntryToWrite(note, by, at)]);
        },
        cancel);

    private async Task<IResult> AtomicallyAsync(
        Guid? caseId,
        CurrentPerson person,
        object entry,
        Func<Clinic, ClinicalTime, Task<Written>> write,
        CancellationToken cancel)
    {
        var key = Key();
        var content = JsonSerializer.Serialize(entry, ApiJson.Options);
        for (var attempt = 1; ; attempt++)
        {
            db.ChangeTracker.Clear();
            try
            {
                using var turn = await limiter.EnterAsync(db, cancel);
                await using var transaction = await db.Database.BeginTransactionAsync(cancel);
                await LockAsync(caseId, person.ClinicId, cancel);
                if (await KeptAsync(person, key, content, cancel) is { } kept)
                {
                    return kept;
                }

                var clinic = await db.Clinics.SingleAsync(c => c.Id == person.ClinicId, cancel);
                var at = clinic.Now(clock);
                var written = await write(clinic, at);
                var subject = await ledger.AppendAsync(db, written.Case, written.Entries, Guid.CreateVersion7(at.ToDateTimeOffset()), cancel);
                await db.UpdateListsAsync(written.Case, subject, at.Utc, cancel);
                await db.UpdateAuditAsync(written.Case, cancel);
                var result = Keep(person, key, content, written, subject, at);
                await db.SaveChangesAsync(cancel);
                await CommitAsync(transaction, new CaseChanged(person.ClinicId, written.Case.Id, written.Case.Version), cancel);
                return result;
            }
            catch (Exception e) when (attempt < Attempts && DatabaseFaults.IsConflict(e))
            {
                await Task.Delay(Random.Shared.Next(5, 30 * attempt), cancel);
            }
        }
    }

    private async Task CommitAsync(IDbContextTransaction transaction, CaseChanged happened, CancellationToken cancel)
    {
        if (db.Database.IsNpgsql())
        {
            await PostgresEvents.NotifyAsync(db, happened, cancel);
            await transaction.CommitAsync(cancel);
        }
        else
        {
            await transaction.CommitAsync(cancel);
            events.Publish(happened);
        }
    }

    private JsonBodyResult Keep(CurrentPerson person, string? key, string content, Written written, SubjectKey subject, ClinicalTime at)
    {
        var (answer, surgicalCase, _) = written;
        var body = JsonSerializer.Serialize(answer.Body, answer.Body.GetType(), ApiJson.Options);
        if (key is not null)
        {
            db.Add(new KeptAnswer
            {
                ClinicId = person.ClinicId,
                PersonId = person.Id,
                Key = key,
                RequestHash = HashOf(content),
                Status = answer.Status,
                Location = answer.Location,
                Version = surgicalCase.Version,
                CaseId = surgicalCase.Id,
                Body = subject.Key!.Encrypt(body, PlaceOf(subject, key)),
                At = at,
            });
        }

        return new JsonBodyResult(answer.Status, body, answer.Location, surgicalCase.Version, Replayed: false);
    }

    private async Task<IResult?> KeptAsync(CurrentPerson person, string? key, string content, CancellationToken cancel)
    {
        if (key is null)
        {
            return null;
        }

        var kept = await db.KeptAnswers.AsNoTracking().SingleOrDefaultAsync(answer => answer.PersonId == person.Id && answer.Key == key, cancel);
        if (kept is not null && kept.RequestHash != HashOf(content))
        {
            throw new RuleViolationException("keyReused", "This Idempotency-Key was used for a different request. Use a new key for each new request.");
        }

        if (kept is null)
        {
            return null;
        }

        var subject = await db.Keys.OfCaseAsync(db, person.ClinicId, kept.CaseId, cancel);
        return subject.Key is { } dataKey
            ? new JsonBodyResult(kept.Status, dataKey.Decrypt(kept.Body, PlaceOf(subject, key)), kept.Location, kept.Version, Replayed: true)
            : throw new NotInRecordException("What was written about this patient was forgotten, and with it the answer to this request.");
    }

    private static WordsPlace PlaceOf(SubjectKey subject, string key) => subject.Place("answer", 1, key);

    private async Task<string> FreeNumberAsync(Clinic clinic, string? wanted, ClinicalTime at, CancellationToken cancel)
    {
        if (wanted is not null)
        {
            return await db.Cases.AnyAsync(c => c.CaseNumber == wanted, cancel)
                ? throw new RuleViolationException("numberTaken", "This case number is already in use; choose another, or leave it blank to have one assigned.")
                : wanted;
        }

        var year = at.ToDateTimeOffset().Year;
        string number;
        do
        {
            var next = await db.Database.SqlQuery<int>($"INSERT INTO case_number_counters (clinic_id, year, last) VALUES ({clinic.Id}, {year}, 1) ON CONFLICT (clinic_id, year) DO UPDATE SET last = case_number_counters.last + 1 RETURNING last AS \"Value\"").ToListAsync(cancel);
            number = FormattableString.Invariant($"{year}-{next[0]:0000}");
        }
        while (await db.Cases.AnyAsync(c => c.CaseNumber == number, cancel));
        return number;
    }

    private async Task<int?> StageCountAsync(Guid caseId, CancellationToken cancel) =>
        await db.Cases.Where(c => c.CaseId == caseId).Select(c => (int?)c.StageCount).SingleOrDefaultAsync(cancel);

    // PostgreSQL lets writers in side by side, so they queue at the row of the case, or of the clinic where a case is opened;
    // SQLite has one writer anyway. The queue stands before the look for a kept answer, so that of two twins under one key the
    // second finds the answer of the first instead of the traces of its write.
    private async Task LockAsync(Guid? caseId, Guid clinicId, CancellationToken cancel)
    {
        if (caseId is { } id)
        {
            await db.LockCaseAsync(clinicId, id, cancel);
        }
        else if (db.Database.IsNpgsql())
        {
            await db.Database.ExecuteSqlAsync($"SELECT 1 FROM clinics WHERE id = {clinicId} FOR NO KEY UPDATE", cancel);
        }
    }

    private void GuardVersion(int version)
    {
        var wanted = Http.Request.Headers.IfMatch;
        if (!StringValues.IsNullOrEmpty(wanted) && !ETags.Match(wanted, version))
        {
            throw new StaleVersionException("The case has changed since you opened it. Read it again before you decide.");
        }
    }

    private string? Key()
    {
        var key = Http.Request.Headers["Idempotency-Key"].ToString();
        return key.Length switch
        {
            0 => null,
            <= KeptAnswer.LongestKey when key.All(c => c is > ' ' and < '\x7f') => key,
            _ => throw new InvalidEntryException("Idempotency-Key", $"At most {KeptAnswer.LongestKey} printable characters without spaces."),
        };
    }

    private string HashOf(string content) => Convert.ToHexStringLower(
        SHA256.HashData(Encoding.UTF8.GetBytes($"{Http.Request.Method} {Http.Request.Path} {content}")));

    private sealed record Written(WriteResult Result, SurgicalCase Case, IReadOnlyList<EntryToWrite> Entries)
    {
        internal static Written Of(SurgicalCase changed, WriteResult result, LedgerAuthor by) =>
            new(result, changed, [.. changed.NewEntries.Select(entry => new EntryToWrite(entry.Event, by, entry.Written.At))]);
    }
}
