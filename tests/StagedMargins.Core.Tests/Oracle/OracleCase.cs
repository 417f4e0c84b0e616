using StagedMargins.Core.Tests.ClockFace;

namespace StagedMargins.Core.Tests.Oracle;

/// <summary>How one margin stands: an array of cells for each part, the last cell the centre of the floor.</summary>
internal sealed record OracleMargin(bool[] Outstanding, bool[] Unread, bool[] Target, bool[] Inflammation, bool[] Exhausted)
{
    private static readonly bool[] Nothing = new bool[OracleCells.Count];

    public static readonly OracleMargin Untouched = new(Nothing, Nothing, Nothing, Nothing, Nothing);
}

/// <summary>Both margins after a stage, and what is to be said about it, by alert code and margin.</summary>
internal sealed record OracleState(int Stage, OracleMargin Edge, OracleMargin Floor, IReadOnlyDictionary<(string Code, bool Deep), bool[]> Alerts)
{
    public string Word => (Stage, AnyOutstanding, AnyUnread) switch
    {
        (0, _, _) => "noTissue",
        (_, true, _) => "tumourOutstanding",
        (_, _, true) => "awaitingReadings",
        _ => "cleared",
    };

    public OracleMargin Of(bool deep) => deep ? Floor : Edge;

    private bool AnyOutstanding => Edge.Outstanding.Concat(Floor.Outstanding).Any(cell => cell);

    private bool AnyUnread => Edge.Unread.Concat(Floor.Unread).Any(cell => cell);
}

/// <summary>
/// The rules of the margins, worked out cell by cell from their definitions: T taken, P positive, A adequate, O outstanding,
/// U unread, K caution. It shares no code with the program.
/// </summary>
internal sealed class OracleCase(int overlap)
{
    public int Overlap { get; } = overlap;

    public List<OracleStage> Stages { get; } = [];

    public OracleState Now => After(Stages.Count);

    public OracleState After(int count)
    {
        var state = new OracleState(0, OracleMargin.Untouched, OracleMargin.Untouched, new Dictionary<(string, bool), bool[]>());
        for (var n = 0; n < count; n++)
        {
            state = Next(state, Stages[n]);
        }

        return state;
    }

    private OracleState Next(OracleState before, OracleStage stage)
    {
        var alerts = new Dictionary<(string Code, bool Deep), bool[]>();
        var margins = new[] { false, true }.Select(deep =>
        {
            Say(alerts, before, stage, deep);
            return Next(before.Of(deep), stage, deep);
        }).ToList();
        return new OracleState(before.Stage + 1, margins[0], margins[1], alerts);
    }

    private OracleMargin Next(OracleMargin before, OracleStage stage, bool deep)
    {
        var taken = stage.Taken(deep);
        var outstanding = OracleCells.Or(OracleCells.Minus(before.Outstanding, taken), stage.Found(finding => finding.IsPositive, deep));
        var unread = OracleCells.Or(OracleCells.Minus(before.Unread, taken), stage.Unseen(deep));
        var exhausted = OracleCells.And(OracleCells.Or(OracleCells.Minus(before.Exhausted, taken), stage.Exhausted(deep)), unread);
        return new OracleMargin(
            outstanding,
            unread,
            Widen(OracleCells.Or(outstanding, exhausted)),
            OracleCells.Or(OracleCells.Minus(before.Inflammation, taken), stage.Found(finding => finding.Seen == Seen.Inflammation, deep)),
            exhausted);
    }

    /// <summary>True where a layer would leave unread tissue where it is.</summary>
    public bool LeavesUnread(OracleStage next) => new[] { false, true }.Any(deep => !OracleCells.IsWithin(Now.Of(deep).Unread, next.Taken(deep)));

    private bool[] Widen(bool[] cells) => [.. CellCircle.Widen(cells[..OracleCells.Centre], Overlap), cells[OracleCells.Centre]];

    private void Say(Dictionary<(string Code, bool Deep), bool[]> alerts, OracleState before, OracleStage stage, bool deep)
    {
        var (margin, taken) = (before.Of(deep), stage.Taken(deep));
        var left = OracleCells.Minus(margin.Outstanding, taken);
        Say("leftBehind", left);
        Say("unmapped", stage.Unmapped(deep));
        Say("piecesOverlap", stage.Overlapping(deep));
        var thin = OracleCells.Minus(margin.Target, taken);
        if (OracleCells.IsEmpty(left) && thin[..OracleCells.Centre].Count(cell => cell) > 5)
        {
            Say("thinOverlap", thin);
        }

        if (before.Stage > 0)
        {
            Say("beyondTarget", OracleCells.Minus(taken, Widen(OracleCells.Or(margin.Outstanding, margin.Unread))));
        }

        void Say(string code, bool[] cells)
        {
            if (!OracleCells.IsEmpty(cells))
            {
                alerts[(code, deep)] = cells;
            }
        }
    }
}
