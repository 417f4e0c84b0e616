namespace StagedMargins.Core.Mapping;

/// <summary>Where a case stands.</summary>
public enum CaseState
{
    /// <summary>No layer has been taken.</summary>
    NoTissue,

    /// <summary>Something is unread and nothing outstanding.</summary>
    AwaitingReadings,

    /// <summary>Tumour is outstanding.</summary>
    TumourOutstanding,

    /// <summary>The whole margin was seen and none of it shows tumour.</summary>
    Cleared,
}

/// <summary>Both margins of a case after a stage, by the readings that count now.</summary>
/// <param name="AfterStage">The stage; 0 before any tissue.</param>
/// <param name="Peripheral">The outer edge.</param>
/// <param name="Deep">The floor.</param>
/// <param name="Overlap">The overlap by which the target is widened.</param>
/// <param name="Alerts">What is to be said about that stage, loudest first.</param>
public sealed record CaseMargins(int AfterStage, MarginState Peripheral, MarginState Deep, Overlap Overlap, IReadOnlyList<MarginAlert> Alerts)
{
    /// <summary>Both margins in their order.</summary>
    public static readonly IReadOnlyList<Margin> Both = [Margin.Peripheral, Margin.Deep];

    /// <summary>Where the case stands. Cleared only when nothing is outstanding and nothing unread on either margin, and every place of both was taken by some stage.</summary>
    public CaseState State => this switch
    {
        { AfterStage: 0 } => CaseState.NoTissue,
        { Peripheral.Outstanding.IsEmpty: false } or { Deep.Outstanding.IsEmpty: false } => CaseState.TumourOutstanding,
        { Peripheral.Unread.IsEmpty: false } or { Deep.Unread.IsEmpty: false } => CaseState.AwaitingReadings,
        _ when !Peripheral.EverTaken.Contains(MarginRegion.WholePeripheral) || !Deep.EverTaken.Contains(MarginRegion.WholeDeep) => CaseState.AwaitingReadings,
        _ => CaseState.Cleared,
    };

    /// <summary>One of the margins.</summary>
    public MarginState this[Margin margin] => margin == Margin.Peripheral ? Peripheral : Deep;

    /// <summary>What the next layer should take of a margin.</summary>
    public MarginRegion Target(Margin margin) => this[margin].Target(Overlap);

    /// <summary>Before any tissue was taken.</summary>
    /// <param name="overlap">The overlap by which targets are widened.</param>
    public static CaseMargins Untouched(Overlap overlap) => new(0, MarginState.Untouched, MarginState.Untouched, overlap, []);

    /// <summary>The state after the last of some stages.</summary>
    /// <param name="stages">Stages 1 to n, in order.</param>
    /// <param name="overlap">The overlap by which the target is widened; what is said of the last stage goes by its own.</param>
    public static CaseMargins After(IReadOnlyList<Stage> stages, Overlap overlap)
    {
        if (stages.Count == 0)
        {
            return Untouched(overlap);
        }

        // Only the last stage is spoken about, so alerts are worked out for it alone.
        var (edge, floor) = (MarginState.Untouched, MarginState.Untouched);
        for (var i = 0; i < stages.Count - 1; i++)
        {
            var stage = StageCoverage.Of(stages[i]);
            (edge, floor) = (edge.After(stage.Peripheral), floor.After(stage.Deep));
        }

        return new CaseMargins(stages.Count - 1, edge, floor, stages[^1].Overlap, []).Then(stages[^1]) with { Overlap = overlap };
    }

    /// <summary>The state after one more stage.</summary>
    public CaseMargins Then(Stage stage)
    {
        var (edge, floor) = StageCoverage.Of(stage);
        var alerts = new List<MarginAlert>();
        Peripheral.AddAlerts(Margin.Peripheral, edge, Overlap, isFirst: AfterStage == 0, alerts);
        Deep.AddAlerts(Margin.Deep, floor, Overlap, isFirst: AfterStage == 0, alerts);
        alerts.AddRange(LayerAlerts.Of(stage));
        alerts.Sort(LoudestFirst);
        return new CaseMargins(stage.Number, Peripheral.After(edge), Deep.After(floor), Overlap, alerts);
    }

    /// <summary>Every place that keeps the case from being cleared.</summary>
    public IReadOnlyList<BlockingRegion> NotClear() =>
        [.. Blocking(BlockingRegion.Outstanding, margin => this[margin].Outstanding), .. Blocking(BlockingRegion.Unread, margin => this[margin].Unread)];

    /// <summary>Unread tissue that a further layer would leave where it is.</summary>
    public IReadOnlyList<BlockingRegion> LeftUnreadBy(Stage next) => Blocking(BlockingRegion.Unread, margin => this[margin].Unread.Except(next.Taken(margin)));

    private static int LoudestFirst(MarginAlert one, MarginAlert other) => one.Code == other.Code
        ? Nullable.Compare((int?)one.Margin, (int?)other.Margin)
        : (int)one.Code - (int)other.Code;

    private static List<BlockingRegion> Blocking(string why, Func<Margin, MarginRegion> where) =>
        [.. Both.Select(margin => new BlockingRegion(why, margin, where(margin))).Where(place => !place.Region.IsEmpty)];
}
