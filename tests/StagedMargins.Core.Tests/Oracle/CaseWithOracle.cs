using StagedMargins.Core.Care;
using StagedMargins.Core.ClockFace;
using StagedMargins.Core.Entries;
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
        Same(amended is null, block.Counting is null, "whether a reading counts");
        var entry = OracleTranslation.Reading(reading) with { AmendsId = amended?.Id, Reason = amended is null ? null : "second look" };
        void Try() => real.RecordReading(stage + 1, block.Label, entry, Some.Surgeon, Some.At(30));
        if (amended is null && Oracle.Stages[stage].IsReplaced(block))
        {
            Refused<RuleViolationException>("a first reading of a block that was embedded again", Try);
            return;
        }

        if (!Oracle.Stages[stage].Allows(block, reading))
        {
            Refused<InvalidEntryException>("a reading that can't be right", Try);
            return;
        }

        Try();
        block.Add(reading);
        Reached.Add(amended is null ? "first reading" : "amendment");
        Compare();
    }

    /// <summary>Withdraws the reading of a block that counts.</summary>
    public void Withdraw(int stage, OracleBlock block)
    {
        Note($"withdraw stage {stage + 1} {block.Label}");
        real.WithdrawReading(real.Case.StageOf(stage + 1).BlockOf(block.Label).CountingReading!.Id, "wrong slide", Some.Surgeon, Some.At(40));
        block.IsLastWithdrawn = true;
        Reached.Add("withdrawn reading");
        Compare();
    }

    /// <summary>Permanent sections of a block that has a reading.</summary>
    public void Report(int stage, OracleBlock block, OracleReading shown)
    {
        Note($"report stage {stage + 1} {block.Label}: {shown.Result} {string.Join("; ", shown.Findings)}");
        if (real.Case.PermanentSectionOf(stage + 1, block.Label) is null)
        {
            real.SendForPermanentSection(stage + 1, block.Label, Some.At(41), null, Some.Surgeon, Some.At(41));
        }

        var entry = new PermanentResultEntry(OracleTranslation.Outcome(shown.Result), Some.At(42), null, "levels", [.. shown.Findings.Select(OracleTranslation.Finding)]);
        void Try() => real.ReportPermanentSection(stage + 1, block.Label, entry, Some.Surgeon, Some.At(42));
        var isPlaced = shown.Result == Result.Tumour || !shown.Findings.Any(finding => finding.IsPositive);
        if (!isPlaced || !Oracle.Stages[stage].Allows(block, shown with { Result = Result.Unreadable }))
        {
            Refused<InvalidEntryException>("a result that can't be right", Try);
            real.ReportPermanentSection(stage + 1, block.Label, entry with { Findings = [], Outcome = ReadingOutcome.Clear }, Some.Surgeon, Some.At(42));
            block.Evidence = new OracleEvidence(Result.Clear, [], block.Readings.Count);
        }
        else
        {
            Try();
            block.Evidence = new OracleEvidence(shown.Result, shown.Findings, block.Readings.Count);
        }

        Reached.Add("evidence");
        Compare();
    }

    /// <summary>Corrects one block of a stage.</summary>
    public void Correct(int stage, OracleBlock block, OracleBlock corrected)
    {
        Note($"correct stage {stage + 1}: {corrected} for {block}");
        var of = Oracle.Stages[stage];
        var after = new OracleStage(of.Pieces);
        var isSame = OracleCells.IsWithin(block.Where.Cells, corrected.Where.Cells) && OracleCells.IsWithin(corrected.Where.Cells, block.Where.Cells)
            && (block.Shows, block.Mirrored, block.Where.Minutes, First(block)) == (corrected.Shows, corrected.Mirrored, corrected.Where.Minutes, First(corrected));
        static int First(OracleBlock one) => one.Where.Minutes == 0 ? 0 : one.Where.From;
        after.Blocks.AddRange(of.Blocks.Select(one => one != block ? one : isSame ? block : corrected));
        void Try() => real.CorrectStage(
            stage + 1, new StageCorrectionEntry(null, null, [.. of.Blocks.Select(one => OracleTranslation.Block(one == block ? corrected : one))], "typed wrong"), Some.Surgeon, Some.At(43));
        if (!after.Blocks.TrueForAll(after.Allows))
        {
            Refused<InvalidEntryException>("a correction off the tissue", Try);
            return;
        }

        Try();
        Oracle.Stages[stage] = after;
        Reached.Add("corrected stage");
        Compare();
    }

    /// <summary>Withdraws the last stage.</summary>
    public void WithdrawStage()
    {
        Note("withdraw the last stage");
        real.WithdrawStage(Oracle.Stages.Count, "never taken", Some.Surgeon, Some.At(44));
        Oracle.Stages.RemoveAt(Oracle.Stages.Count - 1);
        Reached.Add("withdrawn stage");
        Compare();
    }

    public void End()
    {
        Note("end");
        foreach (var review in real.Case.OpenReviews().ToList())
        {
            real.AnswerReview(review.Id, ReviewDecision.Observe, "seen", Some.Surgeon, Some.At(89));
        }

        var entry = new EndingEntry(CaseOutcome.Cleared, Some.At(90), "why", "what next", null, null);
        if (word != "cleared")
        {
            Refused<RuleViolationException>("ending as cleared", () => real.End(entry, null, Some.Surgeon, Some.At(91)));
            entry = entry with { Outcome = word == "tumourOutstanding" ? CaseOutcome.StoppedWithTumour : CaseOutcome.StoppedNotCleared };
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
        if (real.Case.Ending is null)
        {
            // No dead end: an open case always waits for something that somebody can do.
            Reached.Add($"waits for {EnumNames<WaitsFor>.Of(PendingStep.Of(real.Case, Overlap)?.Word ?? throw Difference("An open case waits for nothing"))}");
        }

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
