namespace StagedMargins.Storage;

/// <summary>
/// The clinic that the present work is for. Until it is set nothing of any clinic is seen: every table of a clinic is filtered
/// by it.
/// </summary>
public sealed class ClinicScope
{
    /// <summary>The clinic; empty where none has been set.</summary>
    public Guid ClinicId { get; set; }
}
