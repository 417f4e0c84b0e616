using System.Globalization;
using System.Text.Json.Nodes;
using StagedMargins.Core.Tests.Oracle;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Features.Margins;

/// <summary>One case kept twice, by the running service and by the oracle. What the service answers is compared with the oracle.</summary>
/// <param name="surgeon">Who writes.</param>
/// <param name="id">The case in the service.</param>
/// <param name="overlap">The clinic's overlap.</param>
internal sealed class ServedCaseWithOracle(Caller surgeon, string id, int overlap)
{
    private readonly List<string> steps = [$"overlap {overlap}"];
    private readonly Dictionary<(int Stage, string Block), string> counting = [];
    private readonly Dictionary<(int Stage, string Block), int> sent = [];

    public OracleCase Oracle { get; } = new(overlap);

    /// <summary>What was reached, for a check that the random draws reach everything.</summary>
    public HashSet<string> Reached { get; } = [];

    public async Task TakeAsync(IReadOnlyList<OraclePiece> pieces, IReadOnlyList<OracleBlock> blocks)
    {
        Note($"take {string.Join("; ", pieces)} in {string.Join("; ", blocks)}");
        var layer = new JsonObject { ["pieces"] = new JsonArray([.. pieces.Select(OracleJson.Piece)]), ["blocks"] = new JsonArray([.. blocks.Select(OracleJson.Block)]) };
        var stage = new OracleStage(pieces);
        if (Oracle.LeavesUnread(stage))
        {
            Refused(409, "a layer that leaves unread tissue", await surgeon.RecordAsync(id, layer));
            layer["reasonForUnread"] = "stated";
        }

        stage.Blocks.AddRange(blocks);
        var recorded = Taken(201, await surgeon.RecordAsync(id, layer));
        Oracle.Stages.Add(stage);
        SameAlerts(recorded.At("alerts")!, Oracle.Now, "alerts of the stage as it was recorded");
    }

    public async Task AddAsync(int stage, OracleBlock block)
    {
        Note($"add to stage {stage + 1}: {block}");
        var reply = await surgeon.PostAsync(string.Create(CultureInfo.InvariantCulture, $"/api/cases/{id}/stages/{stage + 1}/blocks"), OracleJson.Block(block));
        if (Oracle.Stages[stage].Allows(block))
        {
            Taken(201, reply);
            Oracle.Stages[stage].Blocks.Add(block);
        }
        else
        {
            Refused(400, "a block off the tissue", reply);
        }
    }

    public async Task ReadAsync(int stage, OracleBlock block, OracleReading reading)
    {
        Note($"read stage {stage + 1} {block.Label}: {reading.Result} {string.Join("; ", reading.Findings)}");
        var body = OracleJson.Reading(reading);
        var isAmendment = counting.TryGetValue((stage, block.Label), out var amended);
        if (isAmendment)
        {
            body.With("amends", amended).With("reason", "second look");
        }

        var reply = await surgeon.ReadAsync(id, stage + 1, block.Label, body);
        if (!isAmendment && Oracle.Stages[stage].IsReplaced(block))
        {
            Refused(409, "a first reading of a block that was embedded again", reply);
        }
        else if (Oracle.Stages[stage].Allows(block, reading))
        {
            counting[(stage, block.Label)] = Taken(201, reply).Text("id");
            block.Add(reading);
            Reached.Add(isAmendment ? "amendment" : "first reading");
        }
        else
        {
            Refused(400, "a reading that can't be right", reply);
        }
    }

    /// <summary>Withdraws the reading of a block that counts.</summary>
    public async Task WithdrawAsync(int stage, OracleBlock block)
    {
        Note($"withdraw stage {stage + 1} {block.Label}");
        counting.Remove((stage, block.Label), out var reading);
        Taken(200, await surgeon.PostAsync($"/api/cases/{id}/readings/{reading}/withdrawal", Some.Json("""{ "reason": "wrong slide" }"""))).At("withdrawn").ShouldBeJson("true");
        block.IsLastWithdrawn = true;
        Reached.Add("withdrawn reading");
    }

    /// <summary>Permanent sections of a block.</summary>
    public async Task ReportAsync(int stage, OracleBlock block, OracleReading shown)
    {
        Note($"report stage {stage + 1} {block.Label}: {shown.Result} {string.Join("; ", shown.Findings)}");
        var at = string.Create(CultureInfo.InvariantCulture, $"/api/cases/{id}/stages/{stage + 1}/blocks/{block.Label}/permanent-section");
        if (!sent.TryGetValue((stage, block.Label), out var section))
        {
            section = sent[(stage, block.Label)] = Taken(201, await surgeon.PostAsync(at, new JsonObject())).Number("id");
        }

        var reply = await surgeon.PostAsync($"{at}s/{section}/result", OracleJson.Evidence(shown));
        var isPlaced = shown.Result == Result.Tumour || !shown.Findings.Any(finding => finding.IsPositive);
        if (isPlaced && Oracle.Stages[stage].Allows(block, shown with { Result = Result.Unreadable }))
        {
            Taken(201, reply);
            block.Evidence = new OracleEvidence(shown.Result, shown.Findings, block.Readings.Count);
            Reached.Add("evidence");
        }
        else
        {
            Refused(400, "a result that can't be right", reply);
        }
    }

    /// <summary>Corrects one block of a stage.</summary>
    public async Task CorrectAsync(int stage, OracleBlock block, OracleBlock corrected)
    {
        Note($"correct stage {stage + 1}: {corrected} for {block}");
        var of = Oracle.Stages[stage];
        var after = new OracleStage(of.Pieces);
        var isSame = OracleJson.Block(block).ToJsonString() == OracleJson.Block(corrected).ToJsonString();
        after.Blocks.AddRange(of.Blocks.Select(one => one == block && !isSame ? corrected : one));
        var body = new JsonObject { ["reason"] = "typed wrong", ["blocks"] = new JsonArray([.. of.Blocks.Select(one => OracleJson.Block(one == block ? corrected : one))]) };
        var reply = await surgeon.PostAsync(string.Create(CultureInfo.InvariantCulture, $"/api/cases/{id}/stages/{stage + 1}/correction"), body);
        if (!after.Blocks.TrueForAll(after.Allows))
        {
            Refused(400, "a correction off the tissue", reply);
            return;
        }

        Taken(200, reply);
        Oracle.Stages[stage] = after;
        if (!isSame)
        {
            counting.Remove((stage, block.Label));
            sent.Remove((stage, block.Label));
        }

        Reached.Add("corrected stage");
    }

    /// <summary>Withdraws the last stage.</summary>
    public async Task WithdrawStageAsync()
    {
        var last = Oracle.Stages.Count;
        Note($"withdraw stage {last}");
        Taken(200, await surgeon.PostAsync(string.Create(CultureInfo.InvariantCulture, $"/api/cases/{id}/stages/{last}/withdrawal"), Some.Json("""{ "reason": "never taken" }""")));
        foreach (var place in counting.Keys.Concat(sent.Keys).Where(place => place.Stage == last - 1).ToList())
        {
            counting.Remove(place);
            sent.Remove(place);
        }

        Oracle.Stages.RemoveAt(last - 1);
        Reached.Add("withdrawn stage");
    }

    public async Task EndAsync()
    {
        Note("end");
        foreach (var review in (await surgeon.GetAsync($"/api/cases/{id}/reviews")).Expect(200).Json.AsArray().Where(review => review!["resolvedAt"] is null))
        {
            Taken(200, await surgeon.PostAsync($"/api/cases/{id}/reviews/{review!["id"]}/resolution", Some.Json("""{ "decision": "observe", "note": "seen" }""")));
        }

        if (Oracle.Now.Word != "cleared")
        {
            Refused(409, "ending as cleared", await surgeon.EndAsync(id, Some.EndCleared()));
            var outcome = Oracle.Now.Word == "tumourOutstanding" ? "stoppedWithTumour" : "stoppedNotCleared";
            Taken(200, await surgeon.EndAsync(id, new JsonObject { ["outcome"] = outcome, ["reason"] = "why", ["plan"] = "what next" }));
        }
        else
        {
            Taken(200, await surgeon.EndAsync(id, Some.EndCleared().With("reason", "nothing is awaited that matters")));
        }
    }

    /// <summary>Compares the state now, and whether the case is flagged for recall.</summary>
    public async Task CompareNowAsync(bool recall)
    {
        var read = await surgeon.CaseAsync(id);
        Compare(read.At("margins")!, Oracle.Now);
        Same(read.At("recall")!.GetValue<bool>(), recall, "recall");
        Reached.Add(Oracle.Now.Word);
        if (recall)
        {
            Reached.Add("recall");
        }
    }

    /// <summary>Compares the state after every stage, by the readings that count now.</summary>
    public async Task CompareEveryStageAsync()
    {
        for (var stage = 0; stage <= Oracle.Stages.Count; stage++)
        {
            Compare((await surgeon.GetAsync(string.Create(CultureInfo.InvariantCulture, $"/api/cases/{id}/margins?afterStage={stage}"))).Expect(200).Json, Oracle.After(stage));
        }
    }

    private void Compare(JsonNode served, OracleState expected)
    {
        Same(served["afterStage"]!.GetValue<int>(), expected.Stage, "number of stages");
        Same(served["state"]!.GetValue<string>(), expected.Word, $"state after stage {expected.Stage}");
        SameAlerts(served["alerts"]!, expected, $"alerts after stage {expected.Stage}");
        SameMargin(served["peripheral"]!, expected.Edge, $"edge after stage {expected.Stage}", hasCentre: false);
        SameMargin(served["deep"]!, expected.Floor, $"floor after stage {expected.Stage}", hasCentre: true);
    }

    private void SameMargin(JsonNode served, OracleMargin expected, string where, bool hasCentre)
    {
        foreach (var (name, cells) in new[] { ("outstanding", expected.Outstanding), ("unread", expected.Unread), ("target", expected.Target), ("caution", expected.Inflammation) })
        {
            Same(OracleJson.Text(served[name]!), OracleJson.Text(cells), $"{name} of the {where}");
            if (hasCentre)
            {
                Same(served[$"{name}Centre"]!.GetValue<bool>(), cells[OracleCells.Centre], $"{name} of the centre, {where}");
            }
        }

        Same(served["outstandingMinutes"]!.GetValue<int>(), expected.Outstanding[..OracleCells.Centre].Count(cell => cell), $"minutes outstanding of the {where}");
    }

    private void SameAlerts(JsonNode served, OracleState expected, string what)
    {
        // Nobody confirmed the site in these cases; the oracle knows of margins alone.
        static string Line(string code, bool deep, string arcs, bool centre) => $"{code} {(deep ? "deep" : "peripheral")} {arcs} {centre}";
        var mine = served.AsArray().Where(alert => alert!["code"]!.GetValue<string>() != "siteNotConfirmed").Select(alert => Line(
            alert!["code"]!.GetValue<string>(), alert["margin"]!.GetValue<string>() == "deep", OracleJson.Text(alert["arcs"]!), alert["centre"]!.GetValue<bool>()));
        var theirs = expected.Alerts.Select(alert => Line(alert.Key.Code, alert.Key.Deep, OracleJson.Text(alert.Value), alert.Value[OracleCells.Centre]));
        Same(string.Join("; ", mine.Order(StringComparer.Ordinal)), string.Join("; ", theirs.Order(StringComparer.Ordinal)), what);
        Reached.UnionWith(expected.Alerts.Keys.Select(key => key.Code));
    }

    private void Same<T>(T served, T expected, string what)
    {
        if (!EqualityComparer<T>.Default.Equals(served, expected))
        {
            throw Difference($"{what}: served {served}, oracle {expected}");
        }
    }

    private Reply Taken(int status, Reply reply) => reply.Status == status ? reply : throw Difference($"The service refuses with {reply.Status} what the oracle allows");

    private void Refused(int status, string what, Reply reply)
    {
        if (reply.Status != status)
        {
            throw Difference($"The service answers {reply.Status} to {what}");
        }

        Reached.Add($"refused {what}");
    }

    private ShouldAssertException Difference(string what) => new($"{what}\n{string.Join("\n", steps)}");

    private void Note(string step) => steps.Add(step);
}
