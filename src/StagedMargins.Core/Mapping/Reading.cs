using StagedMargins.Core.Entries;

namespace StagedMargins.Core.Mapping;

/// <summary>One reader's result for one block.</summary>
public enum ReadingOutcome
{
    /// <summary>The whole margin of the block was seen and shows no tumour.</summary>
    Clear,

    /// <summary>The whole margin of the block was seen and shows tumour.</summary>
    Tumour,

    /// <summary>The margin could not be judged; a recut is needed.</summary>
    Unreadable,
}

/// <summary>
/// One reader's result for one block, as it was written. Never changed: a correction is a further reading that amends it.
/// </summary>
public sealed record Reading
{
    private readonly ReadingWritten reading;

    internal Reading(ReadingWritten reading, int ordinal, Authorship written, int version)
    {
        (Id, Ordinal, Outcome) = (reading.Id, ordinal, reading.Outcome);
        (ReaderId, ReadAt, Findings, AmendsId) = (reading.ReaderId, reading.ReadAt, reading.Findings, reading.Amended);
        (this.reading, RecordedById, RecordedAt, Version) = (reading, written.ById, written.At, version);
    }

    /// <summary>Its own number.</summary>
    public Guid Id { get; }

    /// <summary>Its place among the readings of its block, from 1.</summary>
    public int Ordinal { get; }

    /// <summary>The result.</summary>
    public ReadingOutcome Outcome { get; }

    /// <summary>The surgeon who read the slide and vouches for it.</summary>
    public Guid ReaderId { get; }

    /// <summary>When the slide was read.</summary>
    public ClinicalTime ReadAt { get; }

    /// <summary>Who wrote it down.</summary>
    public Guid RecordedById { get; }

    /// <summary>When it was written down.</summary>
    public ClinicalTime RecordedAt { get; }

    /// <summary>What was seen, on the patient's clock face.</summary>
    public IReadOnlyList<Finding> Findings { get; }

    /// <summary>The reading that this one corrects, if any.</summary>
    public Guid? AmendsId { get; }

    /// <summary>Why the former reading was corrected.</summary>
    public string? Reason => reading.ReasonForAmending?.Text;

    /// <summary>True where no more tissue is left of what it leaves undecided, so that only a further layer can settle it.</summary>
    public bool NoMoreTissue => reading.NoMoreTissue;

    /// <summary>The number of its entry in the case.</summary>
    public int Version { get; }

    /// <summary>That it was withdrawn, where it was; it then counts no more, and no earlier one does.</summary>
    public Withdrawal? Withdrawal { get; internal init; }

    /// <summary>The reader's remark.</summary>
    public string? Note => reading.Note?.Text;

    /// <summary>The reader's later signature, where someone else wrote the reading down.</summary>
    public Countersignature? Countersignature { get; internal init; }

    /// <summary>Who signed: the reader who wrote it down, or who countersigned; null while a signature is missing.</summary>
    public Guid? SignedById => RecordedById == ReaderId ? ReaderId : Countersignature?.ById;

    /// <summary>True where the margin of the block was seen, whatever it showed.</summary>
    public bool IsAdequate => Outcome is ReadingOutcome.Clear or ReadingOutcome.Tumour;

    /// <summary>Where each kind of finding lies on each margin, by kind and then by margin.</summary>
    public IEnumerable<(FindingKind Kind, Margin Margin, MarginRegion Region)> Places() => Findings
        .GroupBy(finding => (finding.Kind, finding.Margin))
        .OrderBy(group => group.Key)
        .Select(group => (group.Key.Kind, group.Key.Margin, MarginRegion.UnionOf(group.Select(finding => finding.Region()))));
}

/// <summary>The reader's signature under a reading that someone else wrote down.</summary>
public sealed class Countersignature
{
    internal Countersignature(Authorship written)
    {
        (ById, At) = (written.ById, written.At);
    }

    /// <summary>Who signed.</summary>
    public Guid ById { get; }

    /// <summary>When.</summary>
    public ClinicalTime At { get; }
}

/// <summary>A reading as it is handed in.</summary>
/// <param name="Outcome">The result.</param>
/// <param name="ReaderId">The surgeon who read the slide.</param>
/// <param name="ReadAt">When.</param>
/// <param name="Findings">What was seen.</param>
/// <param name="AmendsId">The reading it corrects: the one that counts now.</param>
/// <param name="Reason">Why, when it corrects one.</param>
/// <param name="Note">The reader's remark.</param>
/// <param name="Id">Its number, where it comes from another record and has one; null to have one made.</param>
/// <param name="NoMoreTissue">True where no more tissue is left of what it leaves undecided.</param>
public sealed record ReadingEntry(
    ReadingOutcome Outcome,
    Guid ReaderId,
    ClinicalTime ReadAt,
    IReadOnlyList<FindingEntry> Findings,
    Guid? AmendsId = null,
    string? Reason = null,
    string? Note = null,
    Guid? Id = null,
    bool NoMoreTissue = false);
