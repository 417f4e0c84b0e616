using System.Text.Json.Serialization;
using StagedMargins.Core.ClockFace;

namespace StagedMargins.Core.Mapping;

/// <summary>What was seen at a place of a block.</summary>
public enum FindingKind
{
    /// <summary>Tumour. Positive.</summary>
    Tumour,

    /// <summary>Tumour in or around a nerve. Positive.</summary>
    PerineuralInvasion,

    /// <summary>The section does not show this place: edge missing, fold, hole. The place stays unread.</summary>
    NotSeen,

    /// <summary>Seen, and not decidable. The place stays unread.</summary>
    Undetermined,

    /// <summary>Dense inflammation, which may hide tumour. A caution, not positive.</summary>
    Inflammation,

    /// <summary>Actinic change.</summary>
    ActinicChange,

    /// <summary>Scar.</summary>
    Scar,

    /// <summary>Anything else, told in the note.</summary>
    Other,
}

/// <summary>Something located inside a reading, on the patient's clock face. Immutable.</summary>
/// <param name="Kind">What was seen.</param>
/// <param name="Margin">On which margin.</param>
/// <param name="Arc">Where; null for a finding at the centre alone.</param>
/// <param name="Centre">True where it is at the middle of the floor.</param>
/// <param name="Along">How the reader gave the place, where it was given along the slide.</param>
/// <param name="Calibre">The calibre of the nerve, or the width of what was seen, where it was measured.</param>
public sealed record Finding(
    FindingKind Kind,
    Margin Margin,
    ClockArc? Arc,
    bool Centre,
    AlongSlide? Along,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] Length? Calibre = null)
{
    /// <summary>True for what counts as tumour at the margin.</summary>
    public bool IsPositive() => Kind is FindingKind.Tumour or FindingKind.PerineuralInvasion;

    /// <summary>True for a place that the reading does not decide.</summary>
    public bool IsUndecided() => Kind is FindingKind.NotSeen or FindingKind.Undetermined;

    /// <summary>Where it is, as a part of its margin.</summary>
    public MarginRegion Region() => MarginRegion.Of(Arc, Centre);

    /// <summary>The finding as it was given.</summary>
    internal FindingEntry ToEntry() => new(Kind, Margin, Along is null ? Arc : null, Along, Centre, Along?.Mirrored, Calibre);
}

/// <summary>A finding as the reader gives it: by clock arc, along the slide, at the centre, or an arc with the centre.</summary>
/// <param name="Kind">What was seen.</param>
/// <param name="Margin">On which margin.</param>
/// <param name="Arc">Where on the clock face; not together with <paramref name="Along"/>.</param>
/// <param name="Along">Where along the slide; not together with <paramref name="Arc"/>.</param>
/// <param name="Centre">True where it is at the middle of the floor.</param>
/// <param name="Mirrored">Whether the slide showed the mirror image, where it was said; it must be what the block says.</param>
/// <param name="Calibre">The calibre of the nerve, or the width of what was seen, where it was measured.</param>
public sealed record FindingEntry(FindingKind Kind, Margin Margin, ClockArc? Arc, AlongSlide? Along, bool Centre, bool? Mirrored = null, Length? Calibre = null);
