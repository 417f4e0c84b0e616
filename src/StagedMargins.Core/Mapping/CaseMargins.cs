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
/// <param name="Alerts">What is to be said about that stage, loudest first.</param>
public sealed record CaseMargins(int AfterStage, MarginState Peripheral, MarginState Deep, IReadOnlyList<MarginAlert> Alerts)
{
    /// <summary>Both margins in their order.</summary>
    public static readonly IReadOnlyList<Margin> Both = [Margin.Peripheral, Margin.Deep];

    /// <summary>Before any tissue was taken.</summary>
    public static readonly CaseMargins Untouched = new(0, MarginState.Untouched, MarginState.Untouched, []);

    /// <summary>Where the case stands. Cleared only when nothing is outstanding and nothing unread on either margin.</summary>
    public CaseState State => this switch
    {
        { AfterStage: 0 } => CaseState.NoTissue,
        _ when Both.Any(margin => !Of(margin).Outstanding.IsEmpty) => CaseState.TumourOutstanding,
        _ when Both.Any(margin => !Of(margin).Unread.IsEmpty) => CaseState.AwaitingReadings,
        _ => CaseState.Cleared,
    };

    /// <summary>One of the margins.</summary>
    public MarginState Of(Margin margin) => margin == Margin.Peripheral ? Peripheral : Deep;

    /// <summary>The state after the last of some stages.</summary>
    /// <param name="stages">Stages 1 to n, in order.</param>
    /// <param name="overlap">The clinic's overlap.</param>
    public static CaseMargins After(IEnumerable<Stage> stages, Overlap overlap) =>
        stages.Aggregate(Untouched, (before, stage) => before.Then(stage, overlap));

    /// <summary>The state after one more stage.</summary>
    public CaseMargins Then(Stage stage, Overlap overlap)
    {
        var (edge, floor) = (StageCoverage.Of(stage, Margin.Peripheral), StageCoverage.Of(stage, Margin.Deep));
        var isFirst = AfterStage == 0;
        var alerts = Peripheral.AlertsFor(Margin.Peripheral, edge, isFirst)
            .Concat(Deep.AlertsFor(Margin.Deep, floor, isFirst))
            .OrderBy(alert => alert.Code);
        return new CaseMargins(stage.Number, Peripheral.After(edge, overlap), Deep.After(floor, overlap), [.. alerts]);
    }

    /// <summary>Every place that keeps the case from being cleared.</summary>
    public IReadOnlyList<BlockingRegion> NotClear() =>
    [
        .. Both.Select(margin => new BlockingRegion("outstanding", margin, Of(margin).Outstanding)).Where(place => !place.Region.IsEmpty),
        .. Both.Select(margin => new BlockingRegion("unread", margin, Of(margin).Unread)).Where(place => !place.Region.IsEmpty),
    ];
}
