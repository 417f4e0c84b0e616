using StagedMargins.Core.Entries;
using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Mapping;

/// <summary>What a review asks.</summary>
public enum ReviewCode
{
    /// <summary>An amendment, a correction or evidence left a case not clear that had ended clear.</summary>
    Recall,

    /// <summary>Permanent sections differ from the reading that counts.</summary>
    PermanentDiffers,

    /// <summary>A second reader differs from the reading that counts.</summary>
    SecondReadDiffers,

    /// <summary>A visit found the tumour to have come back.</summary>
    Recurrence,

    /// <summary>A debulking specimen or a biopsy names a worse tumour.</summary>
    Upgraded,

    /// <summary>A positive reading that counted was withdrawn, dropped by a correction, or went with its stage.</summary>
    PositiveWithdrawn,
}

/// <summary>What a surgeon decides on a review.</summary>
public enum ReviewDecision
{
    /// <summary>The patient is called back.</summary>
    RecallPatient,

    /// <summary>The site is observed.</summary>
    Observe,

    /// <summary>The patient is referred.</summary>
    Refer,

    /// <summary>Nothing changes.</summary>
    NoChange,
}

/// <summary>That an entry raised a review, as the entry keeps it.</summary>
/// <param name="Id">The review's own number.</param>
/// <param name="Code">What it asks.</param>
/// <param name="Stage">The stage it is about, where it is about one.</param>
/// <param name="Block">The block it is about, where it is about one.</param>
public sealed record RaisedReview(Guid Id, ReviewCode Code, int? Stage, string? Block);

/// <summary>A question that evidence raised and that a surgeon has to answer. It stays in the record for ever.</summary>
/// <param name="Raised">What it asks.</param>
/// <param name="RaisedAt">When.</param>
public sealed record Review(RaisedReview Raised, ClinicalTime RaisedAt)
{
    /// <summary>Its own number.</summary>
    public Guid Id => Raised.Id;

    /// <summary>What it asks.</summary>
    public ReviewCode Code => Raised.Code;

    /// <summary>The answer; null while it is open.</summary>
    public ReviewAnswer? Answer { get; internal init; }

    /// <summary>What it asks, in a sentence.</summary>
    public string Message()
    {
        var place = Raised switch
        {
            { Stage: { } stage, Block: { } block } => Sentences.StageBlock(stage, block),
            { Stage: { } stage } => Sentences.StageAlone(stage),
            _ => "",
        };
        return Code switch
        {
            ReviewCode.Recall => Sentences.Recall,
            ReviewCode.PermanentDiffers => Sentences.ReviewPermanent(place),
            ReviewCode.SecondReadDiffers => Sentences.ReviewSecondRead(place),
            ReviewCode.Recurrence => Sentences.ReviewRecurrence,
            ReviewCode.Upgraded => Sentences.ReviewUpgraded,
            _ => Sentences.ReviewPositiveWithdrawn(place),
        };
    }
}

/// <summary>A surgeon's answer to a review.</summary>
public sealed class ReviewAnswer
{
    private readonly Words note;

    internal ReviewAnswer(ReviewDecision decision, Words note, Authorship written) => (Decision, this.note, ById, At) = (decision, note, written.ById, written.At);

    /// <summary>What was decided.</summary>
    public ReviewDecision Decision { get; }

    /// <summary>In words.</summary>
    public string Note => note.Text;

    /// <summary>By whom.</summary>
    public Guid ById { get; }

    /// <summary>When.</summary>
    public ClinicalTime At { get; }
}
