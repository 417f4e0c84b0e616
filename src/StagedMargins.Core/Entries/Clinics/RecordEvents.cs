namespace StagedMargins.Core.Entries.Clinics;

/// <summary>The record was restored from a backup; what was written after the backup is gone. A new epoch begins with this entry.</summary>
/// <param name="BackupMadeAt">When the backup was made.</param>
/// <param name="LastNumber">The last entry of this stream that the backup held.</param>
public sealed record RecordRestored(ClinicalTime BackupMadeAt, long LastNumber) : ClinicEvent
{
    /// <summary>Its kind.</summary>
    public static readonly EntryKind Kind = For<RecordRestored>("restoreRecord");

    /// <inheritdoc/>
    public override ClinicState Apply(ClinicState state) => state;
}

/// <summary>
/// An administrator took note that a stream did not end where its head said, and let writing go on from the last entry that is there.
/// </summary>
/// <param name="Stream">The stream.</param>
/// <param name="HeadNumber">The number that the head had.</param>
/// <param name="HeadHash">The seal that the head had, hexadecimal.</param>
/// <param name="LastNumber">The number of the last entry that is there; 0 for none.</param>
/// <param name="LastHash">Its seal, hexadecimal.</param>
/// <param name="Reason">Why writing may go on, as the administrator put it.</param>
public sealed record RecordEndAccepted(string Stream, long HeadNumber, string HeadHash, long LastNumber, string LastHash, string Reason) : ClinicEvent
{
    /// <summary>Its kind.</summary>
    public static readonly EntryKind Kind = For<RecordEndAccepted>("acceptRecordEnd");

    /// <inheritdoc/>
    public override ClinicState Apply(ClinicState state) => state;
}
