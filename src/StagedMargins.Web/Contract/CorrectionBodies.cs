using StagedMargins.Core;
using StagedMargins.Core.Entries;
using StagedMargins.Core.Mapping;
using StagedMargins.Storage.Clinics;
using StagedMargins.Web.Problems;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Contract;

/// <summary>Why something is withdrawn or opened again, as it is taken.</summary>
/// <param name="Reason">Why. Required.</param>
public sealed record ReasonBody(string? Reason);

/// <summary>A correction of a stage as it is taken; what is absent stays.</summary>
/// <param name="Reason">Why. Required.</param>
/// <param name="TakenAt">When the tissue left the patient.</param>
/// <param name="Pieces">All its pieces.</param>
/// <param name="Blocks">All its blocks.</param>
public sealed record StageCorrectionBody(string? Reason, DateTimeOffset? TakenAt, PieceBody?[]? Pieces, BlockBody?[]? Blocks)
{
    /// <summary>The correction that was taken.</summary>
    /// <exception cref="InvalidRequestException">A field is at fault.</exception>
    internal StageCorrectionEntry ToEntry(Clinic clinic)
    {
        var errors = new FieldErrors();
        var takenAt = errors.Collect(null, () => TakenAt is { } at ? ClinicalTime.From(at, "takenAt") : (ClinicalTime?)null);
        var pieces = Pieces is null ? null : StageTranslation.ToPieces(Pieces, errors);
        var blocks = Blocks is null ? null : StageTranslation.ToBlocks(Blocks, clinic, errors);
        var reason = errors.Collect(null, () => FreeText.Required("reason", Reason));
        errors.ThrowIfAny();
        return new StageCorrectionEntry(takenAt, pieces, blocks, reason);
    }
}

/// <summary>A correction of a stage as it is sent.</summary>
/// <param name="At">When.</param>
/// <param name="By">By whom.</param>
/// <param name="Reason">Why.</param>
/// <param name="Changes">What stands now, and for what.</param>
public sealed record StageCorrectionView(DateTimeOffset At, string? By, string Reason, string Changes)
{
    /// <summary>A correction as it is sent.</summary>
    public static StageCorrectionView Of(StageCorrection correction, ClinicPeople people) =>
        new(correction.At.ToDateTimeOffset(), people.EmailOf(correction.ById), correction.Reason, correction.InWords());
}

/// <summary>A stage that was withdrawn, as it is sent.</summary>
/// <param name="Stage">The stage as it was, its readings withdrawn.</param>
/// <param name="WithdrawnAt">When.</param>
/// <param name="WithdrawnBy">By whom.</param>
/// <param name="Reason">Why.</param>
public sealed record WithdrawnStageView(StageView Stage, DateTimeOffset WithdrawnAt, string? WithdrawnBy, string Reason)
{
    /// <summary>A stage that was withdrawn, as it is sent.</summary>
    public static WithdrawnStageView Of(WithdrawnStage withdrawn, ClinicPeople people) =>
        new(StageView.Of(withdrawn.Stage, people), withdrawn.Withdrawal.At.ToDateTimeOffset(), people.EmailOf(withdrawn.Withdrawal.ById), withdrawn.Withdrawal.Reason);
}

/// <summary>Which readings are signed at once, as it is taken.</summary>
/// <param name="ReadingIds">The readings. Required.</param>
/// <param name="TakesOver">True where another surgeon who has seen the slides signs.</param>
public sealed record CountersignaturesBody(Guid[]? ReadingIds, bool? TakesOver);

/// <summary>A signature as it is taken.</summary>
/// <param name="TakesOver">True where another surgeon who has seen the slide signs.</param>
public sealed record CountersignBody(bool? TakesOver);

/// <summary>An answer to a review as it is taken.</summary>
/// <param name="Decision">What was decided. Required.</param>
/// <param name="Note">In words. Required.</param>
public sealed record ReviewAnswerBody(ReviewDecision? Decision, string? Note);

/// <summary>A review as it is sent.</summary>
/// <param name="Id">Its number.</param>
/// <param name="Code">What it asks.</param>
/// <param name="RaisedAt">When it was raised.</param>
/// <param name="Message">What it asks, in a sentence.</param>
/// <param name="Stage">The stage it is about.</param>
/// <param name="Block">The block it is about.</param>
/// <param name="ResolvedAt">When it was answered; null while it is open.</param>
/// <param name="ResolvedBy">By whom.</param>
/// <param name="Decision">What was decided.</param>
/// <param name="Note">In words.</param>
public sealed record ReviewView(
    Guid Id, ReviewCode Code, DateTimeOffset RaisedAt, string Message, int? Stage, string? Block, DateTimeOffset? ResolvedAt, string? ResolvedBy, ReviewDecision? Decision, string? Note)
{
    /// <summary>A review as it is sent.</summary>
    public static ReviewView Of(Review review, ClinicPeople people) => new(
        review.Id,
        review.Code,
        review.RaisedAt.ToDateTimeOffset(),
        review.Message(),
        review.Raised.Stage,
        review.Raised.Block,
        review.Answer?.At.ToDateTimeOffset(),
        people.EmailOf(review.Answer?.ById),
        review.Answer?.Decision,
        review.Answer?.Note);
}
