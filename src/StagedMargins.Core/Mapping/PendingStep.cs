using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Mapping;

/// <summary>What an open case waits for, the first thing first.</summary>
public enum PendingStepKind
{
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

    /// <summary>Repair, and the end of the case.</summary>
    Ending,
}

/// <summary>What an open case waits for now.</summary>
/// <param name="For">What.</param>
/// <param name="Stage">The stage it concerns; for a layer the one to be taken.</param>
/// <param name="Blocks">The blocks it concerns.</param>
/// <param name="Places">The places it concerns, by margin.</param>
/// <param name="Since">Since when the patient has waited: when the last layer was taken, or the case was opened.</param>
public sealed record PendingStep(PendingStepKind For, int Stage, IReadOnlyList<string> Blocks, IReadOnlyList<(Margin Margin, MarginRegion Region)> Places, ClinicalTime Since)
{
    /// <summary>What a case waits for, or null where it has ended.</summary>
    /// <param name="surgicalCase">The case.</param>
    /// <param name="overlap">The clinic's overlap.</param>
    public static PendingStep? Of(SurgicalCase surgicalCase, Overlap overlap)
    {
        if (surgicalCase.Ending is not null)
        {
            return null;
        }

        if (surgicalCase.Stages is not [.., var last])
        {
            return new PendingStep(PendingStepKind.FirstLayer, 1, [], [], surgicalCase.OpenedAt);
        }

        var margins = surgicalCase.Margins(overlap);
        var open = surgicalCase.Stages.Select(stage => (stage, blocks: stage.Blocks.Where(block => !block.IsAdequate && Matters(surgicalCase, stage, block)).ToList()))
            .LastOrDefault(stage => stage.blocks.Count > 0);
        return open switch
        {
            { blocks: { } blocks } when blocks.Exists(block => block.CountingReading is not null) =>
                For(PendingStepKind.Recut, open.stage.Number, blocks.Where(block => block.CountingReading is not null).Select(block => block.Label)),
            { blocks: { } blocks } => For(PendingStepKind.Reading, open.stage.Number, blocks.Select(block => block.Label)),
            _ when CaseMargins.Both.Any(margin => !margins[margin].Unread.IsEmpty) => For(PendingStepKind.Block, last.Number, [], margin => margins[margin].Unread),
            _ when margins.State == CaseState.TumourOutstanding => For(PendingStepKind.NextLayer, last.Number + 1, [], margins.Target),
            _ when surgicalCase.ToBeCountersigned() is { Count: > 0 } unsigned => For(PendingStepKind.Countersignature, unsigned[0].Stage.Number, unsigned.Select(at => at.Block.Label)),
            _ => For(PendingStepKind.Ending, last.Number, []),
        };

        PendingStep For(PendingStepKind what, int stage, IEnumerable<string> blocks, Func<Margin, MarginRegion>? where = null) => new(
            what,
            stage,
            [.. blocks],
            where is null ? [] : [.. CaseMargins.Both.Select(margin => (margin, where(margin))).Where(place => !place.Item2.IsEmpty)],
            last.TakenAt);
    }

    /// <summary>What it waits for in words, for example <c>B to be read</c>.</summary>
    public string InWords()
    {
        var (blocks, places) = (string.Join(", ", Blocks), string.Join("; ", Places.Select(place => place.Margin.WithPlaces(place.Region))));
        return For switch
        {
            PendingStepKind.FirstLayer => Sentences.WaitsForFirstLayer,
            PendingStepKind.Recut => Sentences.WaitsForRecut(blocks),
            PendingStepKind.Reading => Sentences.WaitsForReading(blocks),
            PendingStepKind.Block => Sentences.WaitsForBlock(places),
            PendingStepKind.NextLayer => Sentences.WaitsForNextLayer(places),
            PendingStepKind.Countersignature => Sentences.WaitsForCountersignature(blocks),
            _ => Sentences.WaitsForEnd,
        };
    }

    // A block whose place later layers took away again need not be read any more.
    private static bool Matters(SurgicalCase surgicalCase, Stage stage, Block block) => CaseMargins.Both.Any(margin => !surgicalCase.Stages
        .Skip(stage.Number)
        .Aggregate(stage.Covered(block, margin), (left, later) => left.Except(later.Taken(margin)))
        .IsEmpty);
}
