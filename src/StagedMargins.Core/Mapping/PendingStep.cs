using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Mapping;

/// <summary>What an open case waits for, the first thing first.</summary>
public enum PendingStepKind
{
    /// <summary>Two people who confirm the site before the first layer.</summary>
    TimeOut,

    /// <summary>The first layer.</summary>
    FirstLayer,

    /// <summary>Blocks to be recut, for their readings could not be made.</summary>
    Recut,

    /// <summary>Blocks to be read.</summary>
    Reading,

    /// <summary>A block for tissue that none covers.</summary>
    Block,

    /// <summary>The next layer, at the target.</summary>
    NextLayer,

    /// <summary>The reader's signature.</summary>
    Countersignature,

    /// <summary>A surgeon's answer to a review.</summary>
    Answer,

    /// <summary>Permanent sections or a second read that are awaited.</summary>
    Permanent,

    /// <summary>Repair, and the end of the case.</summary>
    Ending,

    /// <summary>The repair of an ended case.</summary>
    Repair,
}

/// <summary>What a case waits for, in one word of the API.</summary>
public enum WaitsFor
{
    /// <summary>Two people who confirm the site.</summary>
    TimeOut,

    /// <summary>A recut.</summary>
    Recut,

    /// <summary>A reading, or a block for tissue that none covers.</summary>
    Reading,

    /// <summary>A layer.</summary>
    Layer,

    /// <summary>A signature.</summary>
    Signature,

    /// <summary>An answer to a review.</summary>
    Answer,

    /// <summary>Permanent sections or a second read.</summary>
    Permanent,

    /// <summary>The end of the case.</summary>
    Ending,

    /// <summary>The repair.</summary>
    Repair,
}

/// <summary>What an open case waits for now.</summary>
/// <param name="For">What.</param>
/// <param name="Stage">The stage it concerns; for a layer the one to be taken.</param>
/// <param name="Blocks">The blocks it concerns.</param>
/// <param name="Places">The places it concerns, by margin.</param>
/// <param name="Since">Since when the patient has waited: when the last layer was taken, or the case was opened.</param>
public sealed record PendingStep(PendingStepKind For, int Stage, IReadOnlyList<string> Blocks, IReadOnlyList<(Margin Margin, MarginRegion Region)> Places, ClinicalTime Since)
{
    /// <summary>The same in one word of the API.</summary>
    public WaitsFor Word => For switch
    {
        PendingStepKind.TimeOut => WaitsFor.TimeOut,
        PendingStepKind.FirstLayer or PendingStepKind.NextLayer => WaitsFor.Layer,
        PendingStepKind.Recut => WaitsFor.Recut,
        PendingStepKind.Reading or PendingStepKind.Block => WaitsFor.Reading,
        PendingStepKind.Countersignature => WaitsFor.Signature,
        PendingStepKind.Answer => WaitsFor.Answer,
        PendingStepKind.Permanent => WaitsFor.Permanent,
        PendingStepKind.Ending => WaitsFor.Ending,
        _ => WaitsFor.Repair,
    };

    /// <summary>What a case waits for; null where it waits for nothing.</summary>
    /// <param name="surgicalCase">The case.</param>
    /// <param name="overlap">The clinic's overlap.</param>
    public static PendingStep? Of(SurgicalCase surgicalCase, Overlap overlap)
    {
        if (surgicalCase.Stages is not [.., var last])
        {
            return surgicalCase.Ending is null
                ? new PendingStep(surgicalCase.IsSiteConfirmed() ? PendingStepKind.FirstLayer : PendingStepKind.TimeOut, 1, [], [], surgicalCase.OpenedAt)
                : Afterwards();
        }

        if (surgicalCase.Ending is not null)
        {
            return Afterwards();
        }

        var margins = surgicalCase.Margins(overlap);
        var open = surgicalCase.Stages.Select(stage => (stage, blocks: stage.Blocks.Where(block => !block.IsAdequate && !stage.IsReplaced(block) && Matters(surgicalCase, stage, block)).ToList()))
            .LastOrDefault(stage => stage.blocks.Count > 0);
        return open switch
        {
            { blocks: { } blocks } when blocks.Exists(block => block.CountingReading is not null) =>
                For(PendingStepKind.Recut, open.stage.Number, blocks.Where(block => block.CountingReading is not null).Select(block => block.Label)),
            { blocks: { } blocks } => For(PendingStepKind.Reading, open.stage.Number, blocks.Select(block => block.Label)),
            _ when CaseMargins.Both.Any(margin => !Settleable(margin).IsEmpty) => For(PendingStepKind.Block, last.Number, [], Settleable),
            _ when CaseMargins.Both.Any(margin => !margins[margin].Outstanding.Union(margins[margin].Exhausted).IsEmpty) => For(PendingStepKind.NextLayer, last.Number + 1, [], margins.Target),
            _ => Afterwards() ?? For(PendingStepKind.Ending, last.Number, []),
        };

        // Unread places that a reading can still settle: of the others no tissue is left.
        MarginRegion Settleable(Margin margin) => margins[margin].Unread.Except(margins[margin].Exhausted);

        PendingStep? Afterwards() => surgicalCase switch
        {
            _ when surgicalCase.ToBeCountersigned() is { Count: > 0 } unsigned => For(PendingStepKind.Countersignature, unsigned[0].Stage.Number, unsigned.Select(at => at.Block.Label)),
            _ when surgicalCase.OpenReviews().Any() => For(PendingStepKind.Answer, surgicalCase.Stages.Count, []),
            _ when EndingRule.Questions(surgicalCase).Count > 0 => For(PendingStepKind.Permanent, surgicalCase.Stages.Count, []),
            { Ending: { Outcome: not CaseOutcome.NotDone, Repair: null }, Repairs.Count: 0 } => For(PendingStepKind.Repair, surgicalCase.Stages.Count, []),
            _ => null,
        };

        PendingStep For(PendingStepKind what, int stage, IEnumerable<string> blocks, Func<Margin, MarginRegion>? where = null) => new(
            what,
            stage,
            [.. blocks],
            where is null ? [] : [.. CaseMargins.Both.Select(margin => (margin, where(margin))).Where(place => !place.Item2.IsEmpty)],
            surgicalCase.Stages is [.., var latest] ? latest.TakenAt : surgicalCase.OpenedAt);
    }

    /// <summary>What it waits for in words, for example <c>B to be read</c>.</summary>
    public string InWords()
    {
        var (blocks, places) = (string.Join(", ", Blocks), string.Join("; ", Places.Select(place => place.Margin.WithPlaces(place.Region))));
        return For switch
        {
            PendingStepKind.TimeOut => Sentences.WaitsForTimeOut,
            PendingStepKind.Answer => Sentences.WaitsForAnswer,
            PendingStepKind.Permanent => Sentences.WaitsForPermanent,
            PendingStepKind.Repair => Sentences.WaitsForRepair,
            PendingStepKind.FirstLayer => Sentences.WaitsForFirstLayer,
            PendingStepKind.Recut => Sentences.WaitsForRecut(blocks),
            PendingStepKind.Reading => Sentences.WaitsForReading(blocks),
            PendingStepKind.Block => Sentences.WaitsForBlock(places),
            PendingStepKind.NextLayer => Sentences.WaitsForNextLayer(places),
            PendingStepKind.Countersignature => Sentences.WaitsForCountersignature(blocks),
            _ => Sentences.WaitsForEnd,
        };
    }

    // A block whose place later layers took away again need not be read any more, nor one of which no tissue is left.
    private static bool Matters(SurgicalCase surgicalCase, Stage stage, Block block) => CaseMargins.Both.Any(margin => !surgicalCase.Stages
        .Skip(stage.Number)
        .Aggregate(block.CountingReading is { NoMoreTissue: true } ? MarginRegion.None : stage.Covered(block, margin), (left, later) => left.Except(later.Taken(margin)))
        .IsEmpty);
}
