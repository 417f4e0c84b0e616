namespace StagedMargins.Core.Mapping;

/// <summary>How one margin stands after a stage. The default value is a margin before any tissue was taken.</summary>
/// <param name="Outstanding">Where tumour was found that no later layer has taken.</param>
/// <param name="Unread">Tissue whose margin was not adequately seen, and that no later layer has taken.</param>
/// <param name="Inflammation">Where inflammation may hide tumour, and no later layer has taken it.</param>
/// <param name="Exhausted">Unread places of which no more tissue is left, so that only a further layer can settle them.</param>
/// <param name="EverTaken">What some stage has taken.</param>
public readonly record struct MarginState(MarginRegion Outstanding, MarginRegion Unread, MarginRegion Inflammation, MarginRegion Exhausted, MarginRegion EverTaken)
{
    // A strip this thin is within what a hand can cut.
    private const int ThinOverlapBeyondMinutes = 5;

    /// <summary>Before any tissue was taken.</summary>
    public static MarginState Untouched => default;

    /// <summary>What the next layer should take: outstanding, and unread places of which no more tissue is left, widened by the clinic's overlap.</summary>
    public MarginRegion Target(Overlap overlap) => Outstanding.Union(Exhausted).Widen(overlap.Minutes);

    /// <summary>The state after one more stage.</summary>
    /// <param name="stage">What the stage says about this margin.</param>
    public MarginState After(in StageCoverage stage)
    {
        var unread = Unread.Except(stage.Taken).Union(stage.Unseen);
        return new MarginState(
            Outstanding.Except(stage.Taken).Union(stage.Positive),
            unread,
            Inflammation.Except(stage.Taken).Union(stage.Inflammation),
            Exhausted.Except(stage.Taken).Union(stage.Exhausted).Intersect(unread),
            EverTaken.Union(stage.Taken));
    }

    /// <summary>What is to be said when a stage follows this state; nothing where nothing is wrong.</summary>
    /// <param name="margin">Which margin this is.</param>
    /// <param name="stage">What the stage says about it.</param>
    /// <param name="overlap">The clinic's overlap.</param>
    /// <param name="isFirst">True for stage 1, which has no target, so that nothing can lie beyond it.</param>
    /// <param name="alerts">Takes what is to be said.</param>
    internal void AddAlerts(Margin margin, in StageCoverage stage, Overlap overlap, bool isFirst, List<MarginAlert> alerts)
    {
        var leftBehind = Outstanding.Except(stage.Taken);
        Add(AlertCode.LeftBehind, leftBehind);
        var missedTarget = Target(overlap).Except(stage.Taken);
        if (leftBehind.IsEmpty && missedTarget.Arcs.Minutes > ThinOverlapBeyondMinutes)
        {
            Add(AlertCode.ThinOverlap, missedTarget);
        }

        Add(AlertCode.Unmapped, stage.Unmapped);
        if (!isFirst)
        {
            Add(AlertCode.BeyondTarget, stage.Taken.Except(Outstanding.Union(Unread).Widen(overlap.Minutes)));
        }

        void Add(AlertCode code, in MarginRegion region)
        {
            if (!region.IsEmpty)
            {
                alerts.Add(new MarginAlert(code, margin, region));
            }
        }
    }
}
