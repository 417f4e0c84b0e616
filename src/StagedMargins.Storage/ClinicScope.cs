using StagedMargins.Storage.Ledger;

namespace StagedMargins.Storage;

/// <summary>
/// The clinic that the present work is for. Until it is set nothing of any clinic is seen: every table of a clinic is filtered
/// by it.
/// </summary>
public sealed class ClinicScope
{
    /// <summary>The clinic; empty where none has been set.</summary>
    public Guid ClinicId { get; set; }

    /// <summary>Gives the keys to what was written in words; null where none of it is read or written.</summary>
    public Func<SubjectKeys>? FindKeys { get; init; }
}
