using StagedMargins.Core.Entries;

namespace StagedMargins.Core.Mapping;

/// <summary>Which reviews an entry raises.</summary>
internal static class ReviewRules
{
    /// <summary>The reviews that an entry raises, without their numbers.</summary>
    /// <param name="before">The case before it.</param>
    /// <param name="entry">The entry.</param>
    /// <param name="after">The case after it.</param>
    internal static IEnumerable<RaisedReview> RaisedBy(SurgicalCase before, CaseEvent entry, SurgicalCase after)
    {
        var about = entry switch
        {
            PermanentSectionReported reported => Differs(after, reported.Stage, reported.Block, EvidenceSource.PermanentSection, ReviewCode.PermanentDiffers),
            SecondReadAnswered answered when before.SecondReads[answered.Number - 1] is var asked =>
                Differs(after, asked.StageNumber, asked.BlockLabel, EvidenceSource.SecondRead, ReviewCode.SecondReadDiffers),
            VisitRecorded { Recurrence: true, Corrects: var corrects } when corrects is null || !before.Visits[corrects.Value - 1].Recurrence => About(ReviewCode.Recurrence),
            ReadingWithdrawn withdrawn when before.PlaceOf(withdrawn.ReadingId) is var (stage, block) && IsPositive(block) => About(ReviewCode.PositiveWithdrawn, stage.Number, block.Label),
            StageCorrected corrected when before.StageOf(corrected.Stage).Blocks.Any(block => IsPositive(block) && corrected.ChangedBlocks.Contains(block.Label)) =>
                About(ReviewCode.PositiveWithdrawn, corrected.Stage),
            StageWithdrawn withdrawn when before.StageOf(withdrawn.Stage).Blocks.Any(IsPositive) => About(ReviewCode.PositiveWithdrawn, withdrawn.Stage),
            _ => null,
        };
        if (about is not null && !before.Reviews.Any(review => review.Answer is null && (review.Code, review.Raised.Stage, review.Raised.Block) == (about.Code, about.Stage, about.Block) && review.Code != ReviewCode.PositiveWithdrawn))
        {
            yield return about;
        }

        var isRecalled = before.Reviews.Any(review => review is { Code: ReviewCode.Recall, Answer: null });
        if (!isRecalled && before.Ending is { } ending && RecallRule.IsRaised(ending.Outcome, before.State, after.State))
        {
            yield return About(ReviewCode.Recall);
        }
    }

    private static RaisedReview About(ReviewCode code, int? stage = null, string? block = null) => new(Guid.Empty, code, stage, block);

    private static RaisedReview? Differs(SurgicalCase after, int stageNumber, string label, EvidenceSource source, ReviewCode code)
    {
        var stage = after.StageOf(stageNumber);
        var block = stage.BlockOf(label);
        var evidence = block.Evidence.Last(one => one.Source == source);
        return block.CountingReading is { } counting
            && (counting.Outcome != evidence.Outcome || CaseMargins.Both.Any(margin => !evidence.Disputes(stage, block, margin).IsEmpty))
                ? About(code, stageNumber, label)
                : null;
    }

    private static bool IsPositive(Block block) => block.CountingReading?.Findings.Any(finding => finding.IsPositive()) == true;
}
