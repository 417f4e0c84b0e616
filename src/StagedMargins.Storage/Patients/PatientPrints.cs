using StagedMargins.Storage.Ledger;

namespace StagedMargins.Storage.Patients;

/// <summary>Makes the fingerprints by which a patient is found. They stand beside the patient's data key and go with it.</summary>
internal static class PatientPrints
{
    /// <summary>The fingerprint of a number; null where the key is not known.</summary>
    /// <param name="keys">The keys of the ledger.</param>
    /// <param name="keyId">The name of the key to derive from.</param>
    /// <param name="clinicId">The clinic.</param>
    /// <param name="number">The clinic's number for the patient; capital and small letters are the same.</param>
    internal static byte[]? Of(LedgerKeys keys, string keyId, Guid clinicId, string number) =>
        keys.Fingerprint(keyId, "Patient", values => values.Id(clinicId).Text(number.ToUpperInvariant()));
}
