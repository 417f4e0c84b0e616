namespace StagedMargins.Core.Mapping;

/// <summary>How one margin stands after a stage.</summary>
/// <param name="Outstanding">Where tumour was found that no later layer has taken.</param>
/// <param name="Unread">Tissue whose margin was not adequately seen.</param>
/// <param name="Target">What the next layer should take: outstanding, widened by the clinic's overlap.</param>
/// <param name="Inflammation">Where inflammation may hide tumour, and no later layer has taken it.</param>
public sealed record MarginState(MarginRegion Outstanding, MarginRegion Unread, MarginRegion Target, MarginRegion Inflammation)
{
    /// <summary>Before any tissue was taken.</summary>
    public static readonly MarginState Untouched = new(MarginRegion.None, MarginRegion.None, MarginRegion.None, MarginRegion.None);

    /// <summary>The state after one more stage.</summary>
    /// <param name="stage">What the stage says about this margin.</param>
    /// <param name="overlap">The clinic's overlap.</param>
    public MarginState After(StageCoverage stage, Overlap overlap)
    {
        var outstanding = Outstanding.Except(stage.Taken).Union(stage.Positive);
        return new MarginState(
            outstanding,
            Unread.Except(stage.Taken).Union(stage.Taken.Except(stage.Adequate)),
            outstanding.Widen(overlap.Minutes),
            Inflammation.Except(stage.Taken).Union(stage.Inflammation));
    }

    /// <summary>What is to be said when a stage follows this state: loudest first, nothing where nothing is wrong.</summary>
    /// <param name="margin">Which margin this is.</param>
    /// <param name="stage">What the stage says about it.</param>
    /// <param name="isFirst">True for stage 1, which has no target, so that nothing can lie beyond it.</param>
    public IEnumerable<MarginAlert> AlertsFor(Margin margin, StageCoverage stage, bool isFirst)
    {
        var leftBehind = Outstanding.Except(stage.Taken);
        var notTaken = Target.Except(stage.Taken);
        (AlertCode Code, MarginRegion Region)[] all =
        [
            (AlertCode.LeftBehind, leftBehind),
            (AlertCode.ThinOverlap, leftBehind.IsEmpty ? notTaken : MarginRegion.None),
            (AlertCode.Unmapped, stage.Taken.Except(stage.Mapped)),
            (AlertCode.BeyondTarget, isFirst ? MarginRegion.None : stage.Taken.Except(Target)),
        ];
        return all.Where(alert => !alert.Region.IsEmpty).Select(alert => new MarginAlert(alert.Code, margin, alert.Region));
    }
}

/// <summary>How far the next layer reaches past the tumour on each side, a setting of the clinic. The default value is no overlap.</summary>
public readonly record struct Overlap
{
    /// <summary>Clock minutes on each side where a clinic has set nothing else.</summary>
    public const int UsualMinutes = 15;

    /// <summary>The fewest clock minutes.</summary>
    public const int Least = 0;

    /// <summary>The most clock minutes.</summary>
    public const int Most = 120;

    /// <summary>Makes an overlap.</summary>
    /// <param name="minutes">Clock minutes on each side, 0 to 120.</param>
    /// <exception cref="InvalidEntryException">Outside 0 to 120.</exception>
    public Overlap(int minutes)
    {
        if (minutes is < Least or > Most)
        {
            throw new InvalidEntryException("overlapMinutes", "The overlap is 0 to 120 clock minutes on each side.");
        }

        Minutes = minutes;
    }

    /// <summary>Clock minutes on each side, 0 to 120.</summary>
    public int Minutes { get; }
}
