using StagedMargins.Core.ClockFace;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Tests.ClockFace;
using StagedMargins.Core.Tests.Entries;

namespace StagedMargins.Core.Tests.Oracle;

/// <summary>One case kept twice, by the program and by the oracle. Every step is taken by both and compared.</summary>
internal sealed class CaseWithOracle(int overlap)
{
    private readonly CaseLog real = Some.Case();
    private readonly List<string> steps = [$"overlap {overlap}"];
    private string word = "noTissue";

    public OracleCase Oracle { get; } = new(overlap);

    /// <summary>What was reached, for a check that the random draws reach everything.</summary>
    public HashSet<string> Reached { get; } = [];

    private Overlap Overlap { get; } = new(overlap);

    public void Take(IReadOnlyList<OraclePiece> pieces, IReadOnlyList<OracleBlock> blocks)
    {
        Note($"take {string.Join("; ", pieces)}");
        var stage = new OracleStage(pieces);
        stage.Blocks.AddRange(blocks);
        var layer = new Layer(Some.At(10), [.. pieces.Select(OracleTranslation.Piece)], [.. blocks.Select(OracleTranslation.Block)]);
        if (Oracle.LeavesUnread(stage))
        {
            Refused<RuleViolationException>("a layer that leaves unread tissue", () => real.RecordLayer(layer, Overlap, Some.Surgeon, Some.At(11)));
            layer = layer with { ReasonForUnread = "stated" };
        }

        real.RecordLayer(layer, Overlap, Some.Surgeon, Some.At(11));
        Oracle.Stages.Add(stage);
        Same(real.Case.Stages[^1].Alerts, Oracle.Now, "stored alerts");
        Compare();
    }

    public void Add(int stage, OracleBlock block)
    {
        Note($"add to stage {stage + 1}: {block}");
        void Try() => real.AddBlock(stage + 1, OracleTranslation.Block(block), Some.Surgeon, Some.At(20));
        if (!Oracle.Stages[stage].Allows(block))
        {
            Refused<InvalidEntryException>("a block off the tissue", Try);
            return;
        }

        Try();
        Oracle.Stages[stage].Blocks.Add(block);
        Compare();
    }

    public void Read(int stage, OracleBlock block, OracleReading reading)
    {
        Note($"read stage {stage + 1} {block.Label}: {reading.Result} {string.Join("; ", reading.Findings)}");
        var amended = real.Case.StageOf(stage + 1).BlockOf(block.Label).CountingReading;
        var entry = OracleTranslation.Reading(reading) with { AmendsId = amended?.Id, Reason = amended is null ? null : "second look" };
        void Try() => real.RecordReading(stage + 1, block.Label, entry, Some.Surgeon, Some.At(30));
        if (!Oracle.Stages[stage].Allows(block, reading))
        {
            Refused<InvalidEntryException>("a reading that can't be right", Try);
            return;
        }

        Try();
        block.Readings.Add(reading);
        Reached.Add(amended is null ? "first reading" : "amendment");
        Compare();
    }

    public void End()
    {
        Note("end");
        var entry = new EndingEntry(CaseOutcome.Cleared, Some.At(90), "why", "what next", null, null);
        if (word != "cleared")
        {
            Refused<RuleViolationException>("ending as cleared", () => real.End(entry, null, Some.Surgeon, Some.At(91)));
            entry = entry with { Outcome = CaseOutcome.StoppedWithTumour };
        }

        real.End(entry, null, Some.Surgeon, Some.At(91));
        Compare();
        CompareEveryStage();
    }

    /// <summary>Compares the state after every stage, by the readings that count now.</summary>
    public void CompareEveryStage()
    {
        for (var k = 0; k <= Oracle.Stages.Count; k++)
        {
            Compare(real.Case.MarginsAfter(k, Overlap), Oracle.After(k));
        }

        Same(StoredCase.Text(StoredCase.MadeAgain(real)), StoredCase.Text(real.Case), "the case made from its stored entries");
        Same(StoredCase.Text(StoredCase.DecidedAgain(real)), StoredCase.Text(real.Case), "the case with each entry decided anew");
    }

    private void Compare()
    {
        var now = Oracle.Now;
        if (real.Case.Ending is not null && word == "cleared" && now.Word != "cleared")
        {
            Reached.Add("recall");
        }

        word = now.Word;
        Compare(real.Case.Margins(Overlap), now);
        Reached.Add(word);
        Same(EnumNames<CaseState>.Of(real.Case.State), word, "state in the head");
        Same(real.Case.Recall, Reached.Contains("recall"), "recall");
    }

    private void Compare(CaseMargins mine, OracleState theirs)
    {
        Same(mine.AfterStage, theirs.Stage, "number of stages");
        Same(EnumNames<CaseState>.Of(mine.State), theirs.Word, $"state after stage {theirs.Stage}");
        Same(mine.Alerts, theirs, $"alerts after stage {theirs.Stage}");
        foreach (var margin in CaseMargins.Both)
        {
            var (m, t) = (mine[margin], theirs.Of(margin == Margin.Deep));
            Same(m.Outstanding, t.Outstanding, $"outstanding {margin} after stage {theirs.Stage}");
            Same(m.Unread, t.Unread, $"unread {margin} after stage {theirs.Stage}");
            Same(mine.Target(margin), t.Target, $"target {margin} after stage {theirs.Stage}");
            Same(m.Inflammation, t.Inflammation, $"inflammation {margin} after stage {theirs.Stage}");
        }
    }

    private void Same(IReadOnlyList<MarginAlert> mine, OracleState theirs, string what)
    {
        Same(string.Join(", ", mine.Select(Key).Order(StringComparer.Ordinal)), string.Join(", ", theirs.Alerts.Keys.Select(key => $"{key.Code} {key.Deep}").Order(StringComparer.Ordinal)), what);
        foreach (var alert in mine)
        {
            Reached.Add(EnumNames<AlertCode>.Of(alert.Code));
            Same(alert.Region, theirs.Alerts[(EnumNames<AlertCode>.Of(alert.Code), alert.Margin == Margin.Deep)], $"{what}, {Key(alert)}");
        }

        static string Key(MarginAlert alert) => $"{EnumNames<AlertCode>.Of(alert.Code)} {alert.Margin == Margin.Deep}";
    }

    private void Same(MarginRegion mine, bool[] theirs, string what)
    {
        var runs = CellCircle.Runs(theirs[..OracleCells.Centre]).Select(run => ClockArc.Starting(new ClockPosition(run.From), run.Minutes));
        if (!mine.Arcs.SequenceEqual(runs) || mine.Centre != theirs[OracleCells.Centre])
        {
            throw Difference($"{what}: program {mine}, oracle {string.Join(", ", runs)} centre {theirs[OracleCells.Centre]}");
        }
    }

    private void Same<T>(T mine, T theirs, string what)
    {
        if (!EqualityComparer<T>.Default.Equals(mine, theirs))
        {
            throw Difference($"{what}: program {mine}, oracle {theirs}");
        }
    }

    private void Refused<TRefusal>(string what, Action act)
        where TRefusal : Exception
    {
        try
        {
            act();
        }
        catch (TRefusal)
        {
            Reached.Add($"refused {what}");
            return;
        }

        throw Difference($"The program takes {what}, the oracle does not");
    }

    private ShouldAssertException Difference(string what) => new($"{what}\n{string.Join("\n", steps)}");

    private void Note(string step) => steps.Add(step);
}
