namespace StagedMargins.Core.Mapping;

/// <summary>A layer as it is handed in: what was taken in one round, and how it was cut into blocks.</summary>
/// <param name="TakenAt">When the tissue left the patient.</param>
/// <param name="Pieces">Its pieces; for stage 1 exactly one whole layer.</param>
/// <param name="Blocks">Its blocks; more may be added later.</param>
/// <param name="ReasonForUnread">Why the layer was taken while readings of the last stage were missing, where that is so.</param>
/// <param name="ReasonForUnconfirmedSite">Why the first layer was taken though two people had not confirmed the site, where that is so.</param>
/// <param name="ReasonForLeftBehind">Why it leaves tumour where it is, where that is so.</param>
public sealed record Layer(
    ClinicalTime TakenAt,
    IReadOnlyList<Piece> Pieces,
    IReadOnlyList<BlockEntry> Blocks,
    string? ReasonForUnread = null,
    string? ReasonForUnconfirmedSite = null,
    string? ReasonForLeftBehind = null);

/// <summary>How much a record takes. Beyond these a record is a mistake, not a case.</summary>
public static class RecordLimits
{
    /// <summary>Stages of one case.</summary>
    public const int Stages = 40;

    /// <summary>Blocks of one stage.</summary>
    public const int Blocks = 52;

    /// <summary>Pieces of one stage.</summary>
    public const int Pieces = 52;

    /// <summary>Findings of one reading.</summary>
    public const int Findings = 100;

    /// <summary>Readings of one block.</summary>
    public const int Readings = 100;

    /// <summary>Points of a traced outline.</summary>
    public const int TracePoints = 5_000;

    /// <summary>Doses of local anaesthetic of one case.</summary>
    public const int Doses = 200;

    /// <summary>Repairs entered in one case.</summary>
    public const int Repairs = 20;

    /// <summary>Visits of one case.</summary>
    public const int Visits = 200;

    /// <summary>Photos of the marked site of one case.</summary>
    public const int SitePhotos = 20;
}
