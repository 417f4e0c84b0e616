using StagedMargins.Core.Mapping;

namespace StagedMargins.Drawing;

/// <summary>Which map is wanted.</summary>
/// <param name="Case">The case.</param>
/// <param name="Overlap">The clinic's overlap, for the target.</param>
/// <param name="Stage">The stage, from 1; 0 is the face before any layer.</param>
/// <param name="Cumulative">
/// True for the state after the stage; false for the stage's own map, with its blocks, inks and readings, which keeps what
/// earlier stages left open on the face and says that it does.
/// </param>
/// <param name="ShowPatientRef">True where the clinic's number for the patient is wanted on the picture.</param>
public sealed record MapRequest(SurgicalCase Case, Overlap Overlap, int Stage, bool Cumulative, bool ShowPatientRef)
{
    /// <summary>From which side the map is seen.</summary>
    public MapView View { get; init; }

    /// <summary>That the case is shown as it was known at a moment, in words; null where it is shown as it is now.</summary>
    public string? AsOf { get; init; }

    /// <summary>
    /// True for a screen that says case, state, notices and caution itself: the picture leaves them out, so that the face is larger.
    /// </summary>
    public bool WithoutSurround { get; init; }

    /// <summary>
    /// True for a document, which says all of that itself and lists the blocks or layers too: the picture leaves out its surround, its
    /// table and the empty border above and below.
    /// </summary>
    public bool InDocument { get; init; }
}
