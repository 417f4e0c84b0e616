using System.Text.Json;

namespace StagedMargins.Core.Entries.Patients;

/// <summary>A patient came to the clinic: a subject of their own, to whom cases belong.</summary>
/// <param name="Number">The clinic's number for the patient, under the patient's own data key.</param>
public sealed record PatientAdded(Words Number)
{
    /// <summary>Its kind.</summary>
    public static readonly EntryKind Kind = new(EntrySubjects.Patient, "addPatient", 1, typeof(PatientAdded));

    /// <summary>The body of the entry.</summary>
    /// <param name="subject">The patient with their data key.</param>
    public byte[] Write(SubjectKey subject) => EntryJson.Write(Kind, this, subject);

    /// <summary>What the body of an entry says.</summary>
    /// <param name="body">The body.</param>
    /// <param name="subject">The patient with their data key.</param>
    /// <exception cref="JsonException">It is not of that form.</exception>
    public static PatientAdded Read(ReadOnlySpan<byte> body, SubjectKey subject) => (PatientAdded)EntryJson.Read(Kind, body, subject);
}
