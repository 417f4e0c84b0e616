namespace StagedMargins.Core.Mapping;

/// <summary>How one margin stands after a stage. The default value is a margin before any tissue was taken.</summary>
/// <param name="Outstanding">Where tumour was found that no later layer has taken.</param>
/// <param name="Unread">Tissue whose margin was not adequately seen, and that no later layer has taken.</param>
/// <param name="Inflammation">Where inflammation may hide tumour, and no later layer has taken it.</param>
public readonly record struct MarginState(MarginRegion Outstanding, MarginRegion Unread, MarginRegion Inflammation)
{
    // A strip this thin is within what a hand can cut.
    private const int ThinOverlapBeyondMinutes = 5;

    /// <summary>Before any tissue was taken.</summary>
    public static MarginState Untouched => default;

    /// <summary>What the next layer should take: outstanding, widened by the clinic's overlap.</summary>
    public MarginRegion Target(Overlap overlap) => Outstanding.Widen(overlap.Minutes);

    /// <summary>The state after one more stage.</summary>
    /// <param name="stage">What the stage says about this margin.</param>
    public MarginState After(in StageCoverage stage) => new(
        Outstanding.Except(stage.Taken).Union(stage.Positive),
        Unread.Except(stage.Taken).Union(stage.Unseen),
        Inflammation.Except(stage.Taken).Union(stage.Inflammation));

    /// <summary>What is to be said when a stage follows this state; nothing where nothing is wrong.</summary>
    /// <param name="margin">Which margin this is.</param>
    /// <param name="stage">What the stage says about it.</param>
    /// <param name="overlap">The clinic's overlap.</param>
    /// <param name="isFirst">True for stage 1, which has no target, so that nothing can lie beyond it.</param>
    public IEnumerable<MarginAlert> AlertsFor(Margin margin, StageCoverage stage, Overlap overlap, bool isFirst)
    {
        var leftBehind = Outstanding.Except(stage.Taken);
        var missedTarget = Target(overlap).Except(stage.Taken);
        var isThin = leftBehind.IsEmpty && missedTarget.Arcs.Minutes > ThinOverlapBeyondMinutes;
        (AlertCode Code, MarginRegion Region)[] all =
        [
            (AlertCode.LeftBehind, leftBehind),
            (AlertCode.ThinOverlap, isThin ? missedTarget : MarginRegion.None),
            (AlertCode.Unmapped, stage.Unmapped),
            (AlertCode.BeyondTarget, isFirst ? MarginRegion.None : stage.Taken.Except(Outstanding.Union(Unread).Widen(overlap.Minutes))),
        ];
        return all.Where(alert => !alert.Region.IsEmpty).Select(alert => new MarginAlert(alert.Code, margin, alert.Region));
    }
}
