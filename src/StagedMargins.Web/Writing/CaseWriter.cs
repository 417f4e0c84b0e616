using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Primitives;
using StagedMargins.Core;
using StagedMargins.Core.Entries;
using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;
using StagedMargins.Storage;
using StagedMargins.Storage.Answers;
using StagedMargins.Storage.Cases;
using StagedMargins.Storage.Clinics;
using StagedMargins.Storage.Ledger;
using StagedMargins.Storage.Patients;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Problems;

namespace StagedMargins.Web.Writing;

/// <summary>What a write gives back.</summary>
/// <param name="Status">HTTP status.</param>
/// <param name="Body">What is sent as JSON.</param>
/// <param name="Location">Where what was made is found.</param>
public sealed record WriteResult(int Status, object Body, string? Location = null);

/// <summary>What a change works with.</summary>
/// <param name="Log">The case, to which its verbs add entries.</param>
/// <param name="Clinic">The clinic, for its settings.</param>
/// <param name="People">The people of the clinic.</param>
/// <param name="ById">Who does it.</param>
/// <param name="At">When it is written.</param>
public sealed record Change(CaseLog Log, Clinic Clinic, ClinicPeople People, Guid ById, ClinicalTime At)
{
    /// <summary>The patient of the number that was said, where one was.</summary>
    public Guid? PatientId { get; init; }

    /// <summary>The case as it stands.</summary>
    public SurgicalCase Case => Log.Case;

    /// <summary>The clinic's overlap.</summary>
    public Overlap Overlap => Clinic.Overlap;
}

/// <summary>
/// The one way to write to a case: in one transaction its entries, what is computed from them and what is kept under an idempotency
/// key, or nothing at all. One writer at a time per case.
/// </summary>
/// <param name="db">The record.</param>
/// <param name="ledger">Seals each entry.</param>
/// <param name="clinics">The clinic and its people.</param>
/// <param name="memory">Cases kept in memory.</param>
/// <param name="patients">Finds and adds patients.</param>
/// <param name="prints">Makes the fingerprints of requests.</param>
/// <param name="events">Tells who listens.</param>
/// <param name="limiter">Where writers of a file wait.</param>
/// <param name="headLimiter">Where writers to a head wait.</param>
/// <param name="clock">The clock.</param>
/// <param name="http">The request, for its headers.</param>
public sealed class CaseWriter(
    ClinicContext db,
    LedgerWriter ledger,
    PresentClinics clinics,
    CaseMemory memory,
    PatientDesk patients,
    RequestPrints prints,
    CaseEvents events,
    SqliteWriteLimiter limiter,
    HeadLimiter headLimiter,
    TimeProvider clock,
    IHttpContextAccessor http)
{
    private const int Attempts = 8;

    private HttpContext Http => http.HttpContext!;

    /// <summary>Opens a case.</summary>
    /// <param name="person">Who.</param>
    /// <param name="entry">What was entered, for the key.</param>
    /// <param name="open">Makes the case from what is given, under a number that is free.</param>
    /// <param name="wantedNumber">The number asked for, or null to have one made.</param>
    /// <param name="patientRef">The clinic's number for the patient.</param>
    /// <param name="answer">The answer for the new case.</param>
    /// <param name="cancel">Ends the wait.</param>
    public Task<IResult> OpenAsync(
        CurrentPerson person,
        object entry,
        string? wantedNumber,
        string patientRef,
        Func<string, Guid, Clinic, ClinicPeople, ClinicalTime, CaseLog> open,
        Func<Change, WriteResult> answer,
        CancellationToken cancel) => AtomicallyAsync(
        person,
        entry,
        async (present, at) =>
        {
            await LockClinicAsync(person.ClinicId, cancel);
            var number = await FreeNumberAsync(present.Clinic, wantedNumber, at, cancel);
            var by = present.People.AuthorOf(person.Id);
            var patient = await patients.FindOrAddAsync(db, person.ClinicId, patientRef, by, at, cancel);
            var opened = open(number, patient.Id, present.Clinic, present.People, at);
            return Written.Of(null, opened, answer(new Change(opened, present.Clinic, present.People, person.Id, at)), by) with { Patient = patient.ToWrite };
        },
        (known, kept) => new CaseLog(known.CaseUpTo(kept.Last)),
        answer,
        cancel);

    /// <summary>Changes a case.</summary>
    /// <param name="caseId">Which.</param>
    /// <param name="person">Who.</param>
    /// <param name="entry">What was entered, for the key.</param>
    /// <param name="change">Does it by the verbs of the case and gives the answer.</param>
    /// <param name="cancel">Ends the wait.</param>
    /// <param name="addsStage">True where a stage is added, which must be the one that the sender had in mind.</param>
    /// <param name="photo">The file of a photo that is added.</param>
    /// <param name="patientRef">The clinic's number for another patient, where the case is to belong to one.</param>
    public async Task<IResult> ChangeAsync(
        Guid caseId,
        CurrentPerson person,
        object entry,
        Func<Change, WriteResult> change,
        CancellationToken cancel,
        bool addsStage = false,
        BarePicture? photo = null,
        string? patientRef = null)
    {
        var seenStages = addsStage ? await StageCountAsync(caseId, cancel) : null;
        return await AtomicallyAsync(
            person,
            entry,
            async (present, at) =>
            {
                PatientOfCase? patient = null;
                if (patientRef is not null)
                {
                    await LockClinicAsync(person.ClinicId, cancel);
                    patient = await patients.FindOrAddAsync(db, person.ClinicId, FreeText.Required("patientRef", patientRef, 64), present.People.AuthorOf(person.Id), at, cancel);
                }

                var known = await db.FindKnownAsync(caseId, cancel, isLocked: true) ?? throw new NotInRecordException("Case not found.");
                var changed = new CaseLog(known.Case);
                GuardVersion(known.Version);
                if (addsStage && changed.Case.Stages.Count != seenStages)
                {
                    throw new RuleViolationException("stageRecordedMeanwhile", $"Someone else recorded stage {changed.Case.Stages.Count} at the same moment. Check it before recording another.");
                }

                if (photo is not null)
                {
                    await db.KeepPhotographAsync(await db.Keys.OfCaseAsync(db, person.ClinicId, caseId, cancel), photo, cancel);
                }

                var result = change(new Change(changed, present.Clinic, present.People, person.Id, at) { PatientId = patient?.Id });
                return Written.Of(known, changed, result, present.People.AuthorOf(person.Id)) with { Patient = changed.Case.PatientId == patient?.Id ? patient.ToWrite : null };
            },
            (known, kept) => known.LogToRepeat(kept.First, kept.Last),
            change,
            cancel);
    }

    /// <summary>Takes a case over from another record.</summary>
    /// <param name="person">Who.</param>
    /// <param name="content">What is taken over, for the key.</param>
    /// <param name="caseId">The case's number in the service.</param>
    /// <param name="wantedNumber">The number that the case is to have in the clinic.</param>
    /// <param name="import">Makes the case and its entries; the note follows as the last one.</param>
    /// <param name="answer">The answer for the case.</param>
    /// <param name="cancel">Ends the wait.</param>
    public Task<IResult> ImportAsync(
        CurrentPerson person,
        object content,
        Guid caseId,
        string wantedNumber,
        Func<Clinic, LedgerAuthor, ClinicalTime, Task<(CaseLog Log, IReadOnlyList<EntryToWrite> Entries, CaseImported Note)>> import,
        Func<Change, WriteResult> answer,
        CancellationToken cancel) => AtomicallyAsync(
        person,
        content,
        async (present, at) =>
        {
            await LockClinicAsync(person.ClinicId, cancel);
            if (await db.AdministeredAtAsync(person.ClinicId, cancel) != present.Number)
            {
                throw new ClinicChangedException();
            }

            if (await db.Cases.AnyAsync(c => c.CaseId == caseId, cancel))
            {
                throw new RuleViolationException("caseHere", $"This case already exists, at /api/cases/{caseId}. Nothing was changed.");
            }

            await FreeNumberAsync(present.Clinic, wantedNumber, at, cancel);
            var by = present.People.AuthorOf(person.Id);
            var (imported, entries, note) = await import(present.Clinic, by, at);
            imported.NoteImport(note, person.Id, at);
            var patient = await patients.TakeOverAsync(db, person.ClinicId, imported.Case.PatientId, imported.Case.PatientRef, by, at, cancel);

            // Accounts that were made for its authors are people of the clinic from now on.
            await db.SaveChangesAsync(cancel);
            var people = await ClinicPeople.LoadAsync(db, person.ClinicId, cancel);
            return new Written(null, answer(new Change(imported, present.Clinic, people, person.Id, at)), imported.Case, [.. entries, new EntryToWrite(note, by, at)]) { KnowsPresent = false, Patient = patient.ToWrite };
        },
        (known, kept) => new CaseLog(known.CaseUpTo(kept.Last)),
        answer,
        cancel);

    private async Task<IResult> AtomicallyAsync(
        CurrentPerson person,
        object entry,
        Func<PresentClinic, ClinicalTime, Task<Written>> write,
        Func<KnownCase, KeptAnswer, CaseLog> stateOf,
        Func<Change, WriteResult> answer,
        CancellationToken cancel)
    {
        var key = Key();
        var content = key is null ? "" : $"{Http.Request.Method} {Http.Request.Path} {JsonSerializer.Serialize(entry, ApiJson.Options)}";
        for (var attempt = 1; ; attempt++)
        {
            db.ChangeTracker.Clear();
            try
            {
                // Most requests are new, so a kept answer is looked for only once a request has turned out not to be.
                return attempt > 1 && await KeptAsync() is { } kept ? kept : await WriteAsync(person, key, content, write, isStale: attempt > 1, cancel);
            }
            catch (Exception e) when (attempt < Attempts && (e is ClinicChangedException || DatabaseFaults.IsConflict(e)))
            {
                await Task.Delay(Random.Shared.Next(5, 30 * attempt), cancel);
            }
            catch (Exception e) when (attempt == 1 && key is not null && IsRefusal(e))
            {
                if (await KeptAsync() is { } kept)
                {
                    return kept;
                }

                throw;
            }
        }

        Task<IResult?> KeptAsync() => this.KeptAsync(person, key, content, stateOf, answer, cancel);
    }

    private async Task<IResult> WriteAsync(
        CurrentPerson person, string? key, string content, Func<PresentClinic, ClinicalTime, Task<Written>> write, bool isStale, CancellationToken cancel)
    {
        var present = await clinics.FindAsync(db, person.ClinicId, isStale, cancel);
        Written written;
        IReadOnlyList<KnownEntry> entries;
        using (await limiter.EnterAsync(db, cancel))
        {
            await using var transaction = await db.Database.BeginTransactionAsync(cancel);
            var at = present.Clinic.Now(clock);
            written = await DecideAsync(at);
            using var turn = written.KnowsPresent ? await headLimiter.EnterAsync(person.ClinicId, cancel) : null;
            entries = await ledger.AppendAsync(
                db,
                written.Case,
                written.Entries,
                Guid.CreateVersion7(at.ToDateTimeOffset()),
                cancel,
                written.KnowsPresent ? present.Number : null,
                key is null ? null : Keep(person, key, content, written, at),
                written.Patient);
            if (db.ChangeTracker.HasChanges())
            {
                await db.SaveChangesAsync(cancel);
            }

            await transaction.CommitAsync(cancel);
        }

        memory.Keep((written.Before ?? new KnownCase(person.ClinicId, written.Case.Id)).With(entries, written.Case));
        events.Tell(new CaseChanged(person.ClinicId, written.Case.Id, written.Case.Version));
        return ResultOf(written.Result, written.Case.Version, isReplayed: false);

        // What is kept in memory of the clinic may be too old to refuse by.
        async Task<Written> DecideAsync(ClinicalTime at)
        {
            try
            {
                return await write(present, at);
            }
            catch (Exception e) when (!isStale && IsRefusal(e))
            {
                if (await db.AdministeredAtAsync(person.ClinicId, cancel) != present.Number)
                {
                    throw new ClinicChangedException();
                }

                throw;
            }
        }
    }

    private static bool IsRefusal(Exception exception) => exception is RuleViolationException or InvalidEntryException or NotInRecordException or StaleVersionException;

    private KeptAnswer Keep(CurrentPerson person, string key, string content, Written written, ClinicalTime at) => new()
    {
        ClinicId = person.ClinicId,
        PersonId = person.Id,
        Key = key,
        RequestPrint = prints.Of(content),
        CaseId = written.Case.Id,
        First = written.Case.Version - written.Entries.Count + 1,
        Last = written.Case.Version,
        Status = written.Result.Status,
        At = at,
    };

    private async Task<IResult?> KeptAsync(
        CurrentPerson person, string? key, string content, Func<KnownCase, KeptAnswer, CaseLog> stateOf, Func<Change, WriteResult> answer, CancellationToken cancel)
    {
        if (key is null || await db.KeptAnswers.AsNoTracking().SingleOrDefaultAsync(one => one.PersonId == person.Id && one.Key == key, cancel) is not { } kept)
        {
            return null;
        }

        if (!prints.Matches(kept.RequestPrint, content))
        {
            throw new RuleViolationException("keyReused", "This Idempotency-Key was used for a different request. Use a new key for each new request.");
        }

        var known = (await db.FindKnownAsync(kept.CaseId, cancel))!;
        if ((await db.Keys.OfCaseAsync(db, person.ClinicId, kept.CaseId, cancel)).Key is null)
        {
            throw new NotInRecordException("What was written about this patient was forgotten, and with it the answer to this request.");
        }

        // By the settings of then, for which the number of its first entry stands.
        var first = known.Entries[kept.First - 1];
        var settings = await db.SettingsAtAsync(person.ClinicId, first.Number, cancel);
        var people = (await ClinicPeople.LoadAsync(db, person.ClinicId, cancel)).AsOnceAccepted();
        var result = answer(new Change(stateOf(known, kept), ClinicEntries.ClinicOf(person.ClinicId, settings), people, person.Id, first.At));
        return ResultOf(result with { Status = kept.Status }, kept.Last, isReplayed: true);
    }

    private static JsonBodyResult ResultOf(WriteResult result, int version, bool isReplayed) =>
        new(result.Status, JsonSerializer.Serialize(result.Body, result.Body.GetType(), ApiJson.Options), result.Location, version, isReplayed);

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

    // PostgreSQL lets writers in side by side, so those who open cases queue at the row of the clinic; SQLite has one writer anyway.
    private async Task LockClinicAsync(Guid clinicId, CancellationToken cancel)
    {
        if (db.Database.IsNpgsql())
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

    private sealed record Written(KnownCase? Before, WriteResult Result, SurgicalCase Case, IReadOnlyList<EntryToWrite> Entries)
    {
        /// <summary>True where it was decided by the clinic and people that were kept in memory.</summary>
        internal bool KnowsPresent { get; init; } = true;

        /// <summary>The entry that adds the patient, where they are new.</summary>
        internal UnsealedEntry? Patient { get; init; }

        internal static Written Of(KnownCase? before, CaseLog changed, WriteResult result, LedgerAuthor by) =>
            new(before, result, changed.Case, [.. changed.NewEntries.Select(entry => new EntryToWrite(entry.Event, by, entry.Written.At))]);
    }
}
