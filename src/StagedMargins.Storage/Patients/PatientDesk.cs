using System.Text;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Core;
using StagedMargins.Core.Entries;
using StagedMargins.Core.Entries.Patients;
using StagedMargins.Storage.Ledger;

namespace StagedMargins.Storage.Patients;

/// <summary>A patient to whom a case is to belong.</summary>
/// <param name="Id">The patient.</param>
/// <param name="ToWrite">The entry that adds them, where they are new here; it comes before those of the case.</param>
public sealed record PatientOfCase(Guid Id, UnsealedEntry? ToWrite);

/// <summary>Finds patients by the clinic's number, and adds those who are new. Whoever asks has the clinic's queue of openings.</summary>
/// <param name="keys">The keys of the ledger.</param>
/// <param name="subjects">The data keys of subjects.</param>
public sealed class PatientDesk(LedgerKeys keys, SubjectKeys subjects)
{
    /// <summary>The patient of a number: the one who is here already, or a new one.</summary>
    /// <param name="db">The record, in a transaction.</param>
    /// <param name="clinicId">The clinic.</param>
    /// <param name="number">The clinic's number for the patient.</param>
    /// <param name="by">Who writes.</param>
    /// <param name="at">When.</param>
    /// <param name="cancel">Ends the wait.</param>
    public async Task<PatientOfCase> FindOrAddAsync(ClinicContext db, Guid clinicId, string number, LedgerAuthor by, ClinicalTime at, CancellationToken cancel)
    {
        var prints = keys.Ids.Select(id => PatientPrints.Of(keys, id, clinicId, number)).ToList();
        var found = await db.DataKeys.Where(row => row.SubjectKind == EntrySubjects.Patient && prints.Contains(row.FoundBy))
            .OrderBy(row => row.SubjectId).Select(row => (Guid?)row.SubjectId).FirstOrDefaultAsync(cancel);
        return found is { } known ? new PatientOfCase(known, null) : Add(db, clinicId, Guid.CreateVersion7(at.ToDateTimeOffset()), number, by, at);
    }

    /// <summary>The patient of a case from elsewhere, who keeps the id they have there. Never matched by the number: somebody else may have it here.</summary>
    /// <param name="db">The record, in a transaction.</param>
    /// <param name="clinicId">The clinic.</param>
    /// <param name="id">The patient's id there.</param>
    /// <param name="number">The number there.</param>
    /// <param name="by">Who writes.</param>
    /// <param name="at">When.</param>
    /// <param name="cancel">Ends the wait.</param>
    /// <exception cref="RuleViolationException">The patient is here under another number, or was forgotten.</exception>
    public async Task<PatientOfCase> TakeOverAsync(ClinicContext db, Guid clinicId, Guid id, string number, LedgerAuthor by, ClinicalTime at, CancellationToken cancel)
    {
        var added = await db.Ledger.AsNoTracking().SingleOrDefaultAsync(row => row.SubjectKind == EntrySubjects.Patient && row.SubjectId == id && row.SubjectNumber == 1, cancel);
        if (added is null)
        {
            return Add(db, clinicId, id, number, by, at);
        }

        var subject = await db.DataKeys.AsNoTracking().SingleOrDefaultAsync(row => row.SubjectKind == EntrySubjects.Patient && row.SubjectId == id, cancel) is { } key ? key.Open(keys) : null;
        if (subject?.Key is null)
        {
            throw new RuleViolationException("forgotten", "What was written about this patient was forgotten here, so no case of theirs can be imported.");
        }

        return PatientAdded.Read(Encoding.UTF8.GetBytes(added.Body), subject).Number.Text == number
            ? new PatientOfCase(id, null)
            : throw new RuleViolationException("patientDiffers", "The clinic has this patient under a different number from the one in the file. Nothing was imported.");
    }

    private PatientOfCase Add(ClinicContext db, Guid clinicId, Guid id, string number, LedgerAuthor by, ClinicalTime at)
    {
        var subject = subjects.Make(db, clinicId, EntrySubjects.Patient, id, PatientPrints.Of(keys, keys.CurrentId, clinicId, number));
        var body = new PatientAdded(Words.Of(number)!).Write(subject);
        return new PatientOfCase(id, new UnsealedEntry(new LedgerSubject(EntrySubjects.Patient, id, 1), PatientAdded.Kind, by, at, null, body));
    }
}
