using System.Globalization;
using System.Text.Json.Nodes;

namespace StagedMargins.Web.Tests.Testing;

/// <summary>Steps of a case as a caller takes them over HTTP.</summary>
public static class CaseSteps
{
    /// <summary>Opens a case and gives its id.</summary>
    public static async Task<string> OpenCaseAsync(this Caller caller, JsonObject? body = null) =>
        (await caller.PostAsync("/api/cases", body ?? Some.Case())).Expect(201).Text("id");

    /// <summary>Opens a case and records its first layer.</summary>
    public static async Task<string> OpenWithLayerAsync(this Caller caller)
    {
        var id = await caller.OpenCaseAsync();
        (await caller.RecordAsync(id, Some.WholeLayer())).Expect(201);
        return id;
    }

    /// <summary>Opens a case, records its first layer and reads all of it clear.</summary>
    public static async Task<string> OpenClearAsync(this Caller caller)
    {
        var id = await caller.OpenWithLayerAsync();
        (await caller.ReadAsync(id, 1, "A", Some.Clear())).Expect(201);
        (await caller.ReadAsync(id, 1, "B", Some.Clear())).Expect(201);
        return id;
    }

    /// <summary>Plays the worked example of the project's domain description to its end as cleared.</summary>
    public static async Task<string> PlayWorkedExampleAsync(this Caller surgeon, Caller histotech)
    {
        var id = await surgeon.OpenCaseAsync();
        await surgeon.ConfirmSiteAsync(id, histotech);
        (await surgeon.RecordAsync(id, Some.WholeLayer())).Expect(201);
        (await surgeon.ReadAsync(id, 1, "A", Some.Clear())).Expect(201);
        (await surgeon.ReadAsync(id, 1, "B", Some.Tumour("07:30", "09:00"))).Expect(201);
        (await surgeon.RecordAsync(id, Some.Rim("07:45", "09:15"))).Expect(201);
        (await surgeon.ReadAsync(id, 2, "A", Some.Clear())).Expect(201);
        (await surgeon.RecordAsync(id, Some.Rim("07:15", "08:00"))).Expect(201);
        (await surgeon.ReadAsync(id, 3, "A", Some.Clear())).Expect(201);
        (await surgeon.EndAsync(id, Some.EndCleared())).Expect(200);
        return id;
    }

    /// <summary>Two people confirm the site of a case.</summary>
    public static async Task ConfirmSiteAsync(this Caller caller, string id, Caller second)
    {
        (await caller.PostAsync($"/api/cases/{id}/site-confirmations", new JsonObject())).Expect(201);
        (await second.PostAsync($"/api/cases/{id}/site-confirmations", new JsonObject())).Expect(201);
    }

    /// <summary>Records a layer.</summary>
    public static Task<Reply> RecordAsync(this Caller caller, string id, JsonObject layer, params (string Name, string Value)[] headers) =>
        caller.PostAsync($"/api/cases/{id}/stages", layer, headers);

    /// <summary>Rehearses a layer.</summary>
    public static Task<Reply> PreviewAsync(this Caller caller, string id, JsonObject layer) =>
        caller.PostAsync($"/api/cases/{id}/stages/rehearsal", layer);

    /// <summary>Records a reading.</summary>
    public static Task<Reply> ReadAsync(this Caller caller, string id, int stage, string block, JsonObject reading, params (string Name, string Value)[] headers) =>
        caller.PostAsync(string.Create(CultureInfo.InvariantCulture, $"/api/cases/{id}/stages/{stage}/blocks/{block}/readings"), reading, headers);

    /// <summary>The id of a block's reading that counts.</summary>
    public static async Task<string> CountingAsync(this Caller caller, string id, int stage, string block)
    {
        var blocks = (await caller.CaseAsync(id)).At($"stages[{stage - 1}].blocks")!.AsArray();
        return blocks.Single(candidate => candidate!["label"]!.GetValue<string>() == block)!["readings"]!.AsArray().Single(reading => reading!["amendedBy"] is null)!["id"]!.GetValue<string>();
    }

    /// <summary>Amends the reading of a block that counts.</summary>
    public static async Task AmendAsync(this Caller caller, string id, int stage, string block, JsonObject reading) =>
        (await caller.ReadAsync(id, stage, block, reading.With("amends", await caller.CountingAsync(id, stage, block)).With("reason", "second look"))).Expect(201);

    /// <summary>Ends a case.</summary>
    public static Task<Reply> EndAsync(this Caller caller, string id, JsonObject end) => caller.PostAsync($"/api/cases/{id}/end", end);

    /// <summary>The margins now.</summary>
    public static async Task<Reply> MarginsAsync(this Caller caller, string id) => (await caller.GetAsync($"/api/cases/{id}/margins")).Expect(200);

    /// <summary>The case as it stands.</summary>
    public static async Task<Reply> CaseAsync(this Caller caller, string id) => (await caller.GetAsync($"/api/cases/{id}")).Expect(200);

    /// <summary>The version of a case, from its entity tag.</summary>
    public static int Version(this Reply reply) => int.Parse(reply.Header("ETag")!.Trim('"'), CultureInfo.InvariantCulture);
}
