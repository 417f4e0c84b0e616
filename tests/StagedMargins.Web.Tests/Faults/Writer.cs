using System.Collections.Concurrent;
using System.Globalization;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Faults;

/// <summary>A write as it was sent, and its answer once there was one.</summary>
/// <param name="Path">Where to.</param>
/// <param name="Body">What.</param>
/// <param name="Key">Its idempotency key.</param>
public sealed record Sent(string Path, string Body, string Key)
{
    /// <summary>The answer; null while it is not known whether the write was kept.</summary>
    public Reply? Answer { get; set; }
}

/// <summary>
/// Writes one case after another, each in seven steps, one write at a time, and remembers every answer. When the service goes away
/// at most one write is in doubt.
/// </summary>
/// <param name="surgeon">Who writes.</param>
public sealed class Writer(Caller surgeon)
{
    private const int StepsOfCase = 7;
    private readonly ConcurrentDictionary<string, int> changes = [];
    private string caseId = "";
    private int step;
    private Sent? inDoubt;

    /// <summary>Who writes; a sign-in does not last as long as a long run.</summary>
    public Caller Surgeon { get; set; } = surgeon;

    /// <summary>Writes answered since the last time they were checked.</summary>
    public List<Sent> Acknowledged { get; } = [];

    /// <summary>True where the last write has no answer.</summary>
    public bool IsInDoubt => inDoubt is not null;

    /// <summary>True where the service did not answer at all.</summary>
    public bool IsGone { get; private set; }

    /// <summary>Answers that told of the database being away, which a write may meet while it is.</summary>
    public List<Reply> Away { get; } = [];

    /// <summary>How many changes of each case were answered.</summary>
    public IReadOnlyDictionary<string, int> Changes => changes;

    /// <summary>Writes until told to stop, or until the service goes away.</summary>
    public async Task RunAsync(CancellationToken stop)
    {
        while (!stop.IsCancellationRequested)
        {
            inDoubt ??= Next();
            if (await SendAsync(inDoubt) is not { } reply)
            {
                IsGone = true;
                return;
            }

            if (reply.Status == 503)
            {
                Away.Add(reply);
                await Task.Delay(100, CancellationToken.None);
                continue;
            }

            Take(reply);
        }
    }

    /// <summary>Sends the write in doubt once more, with the same key.</summary>
    /// <returns>True where it had been kept before the service went away.</returns>
    public async Task<bool> SettleAsync()
    {
        var reply = (await SendAsync(inDoubt!)).ShouldNotBeNull();
        var wasKept = reply.Header("Idempotency-Replayed") == "true";
        Take(reply);
        return wasKept;
    }

    /// <summary>Sends every answered write again with its key, which must give the same answer and change nothing.</summary>
    public async Task ReplayAsync()
    {
        foreach (var sent in Acknowledged)
        {
            var again = (await SendAsync(sent)).ShouldNotBeNull();
            again.Status.ShouldBe(sent.Answer!.Status, sent.Path);
            again.Body.ShouldBe(sent.Answer.Body);
            again.Header("ETag").ShouldBe(sent.Answer.Header("ETag"));
            again.Header("Location").ShouldBe(sent.Answer.Header("Location"));
            again.Header("Idempotency-Replayed").ShouldBe("true");
        }

        Acknowledged.Clear();
    }

    /// <summary>Checks that each case has as many changes as were answered, and that its history is intact.</summary>
    public async Task CheckCasesAsync()
    {
        foreach (var (id, count) in changes)
        {
            var history = (await Surgeon.GetAsync($"/api/cases/{id}/history")).Expect(200);
            history.At("entries")!.AsArray().Count.ShouldBe(count);
            history.At("chain.intact").ShouldBeJson("true");
        }

        if (step == 0)
        {
            changes.Clear();
            return;
        }

        var present = changes[caseId];
        changes.Clear();
        changes[caseId] = present;
    }

    private async Task<Reply?> SendAsync(Sent sent)
    {
        try
        {
            return await Surgeon.PostTextAsync(sent.Path, sent.Body, ("Idempotency-Key", sent.Key));
        }
        catch (Exception e) when (e is HttpRequestException or IOException)
        {
            return null;
        }
    }

    private void Take(Reply reply)
    {
        reply.Status.ShouldBeInRange(200, 201, reply.Body);
        caseId = step == 0 ? reply.Text("id") : caseId;
        changes[caseId] = changes.GetValueOrDefault(caseId) + 1;
        inDoubt!.Answer = reply;
        Acknowledged.Add(inDoubt);
        inDoubt = null;
        step = (step + 1) % StepsOfCase;
    }

    private Sent Next()
    {
        var (path, body) = step switch
        {
            0 => ("", Some.Case()),
            1 => ("/stages", Some.WholeLayer()),
            2 => (Readings(1, "A"), Some.Clear()),
            3 => (Readings(1, "B"), Some.Tumour("07:30", "09:00")),
            4 => ("/stages", Some.Rim("07:15", "09:15")),
            5 => (Readings(2, "A"), Some.Clear()),
            _ => ("/end", Some.EndCleared()),
        };
        return new Sent(step == 0 ? "/api/cases" : $"/api/cases/{caseId}{path}", body.ToJsonString(), Guid.NewGuid().ToString());

        static string Readings(int stage, string block) => string.Create(CultureInfo.InvariantCulture, $"/stages/{stage}/blocks/{block}/readings");
    }
}
