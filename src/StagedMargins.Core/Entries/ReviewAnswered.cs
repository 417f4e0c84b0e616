using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Entries;

/// <summary>A surgeon answered a review.</summary>
/// <param name="ReviewId">The review.</param>
/// <param name="Decision">What was decided.</param>
/// <param name="Note">In words.</param>
public sealed record ReviewAnswered(Guid ReviewId, ReviewDecision Decision, Words Note) : CaseEvent
{
    /// <summary>Its kind.</summary>
    public static readonly CaseEntryKind Kind = CaseEntryKind.For<ReviewAnswered>("answerReview", surgeonAlone: true, inPerson: true);

    /// <summary>Decides that a review is answered.</summary>
    /// <exception cref="NotInRecordException">There is no such review.</exception>
    /// <exception cref="RuleViolationException">It was answered already.</exception>
    /// <exception cref="InvalidEntryException">Nothing was said in words.</exception>
    public static ReviewAnswered Decide(SurgicalCase state, Guid reviewId, ReviewDecision decision, string? note)
    {
        var review = state.Reviews.FirstOrDefault(one => one.Id == reviewId) ?? throw new NotInRecordException("The case has no such review.");
        return review.Answer is null
            ? new ReviewAnswered(reviewId, decision, Words.Of(FreeText.Required("note", note))!)
            : throw new RuleViolationException("reviewAnswered", "This review has already been answered; the answer stays in the record.");
    }

    /// <inheritdoc/>
    public override CaseEvent DecideAgain(SurgicalCase state, Authorship written) => Decide(state, ReviewId, Decision, Note.Text);

    /// <inheritdoc/>
    public override string Sentence(SurgicalCase before, Func<Guid, string> nameOf) => Sentences.EntryReviewAnswered(
        Terms.Of(before.Reviews.First(review => review.Id == ReviewId).Code), Terms.Of(Decision), Note.Text);

    internal override SurgicalCase Apply(SurgicalCase state, Authorship written) => state with
    {
        Reviews = [.. state.Reviews.Select(review => review.Id == ReviewId ? review with { Answer = new ReviewAnswer(Decision, Note, written) } : review)],
    };
}
