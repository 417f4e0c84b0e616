using System.Text.Json.Nodes;

namespace StagedMargins.Web.Tests.Testing;

/// <summary>What is done around the loop, as a caller does it over HTTP.</summary>
public static class CareSteps
{
    /// <summary>A dose of lidocaine 1 % with adrenaline, 6 mL: 60 mg.</summary>
    public static JsonObject Dose() => Some.Json("""{ "agent": "lidocaine", "percent": 1, "volumeMl": 6, "adrenaline": true, "givenAt": "2026-03-03T09:00:00-05:00" }""");

    /// <summary>A repair by flap.</summary>
    public static JsonObject Repair() => Some.Json("""{ "kind": "flap", "repairedOn": "2026-03-03" }""");

    /// <summary>A visit.</summary>
    public static JsonObject Visit(string day, bool recurrence) => new() { ["visitedOn"] = day, ["recurrence"] = recurrence };

    /// <summary>Does everything around the loop once, in a case with block A of stage 1 read by the surgeon.</summary>
    public static async Task CareForAsync(this TestClinic clinic, string id)
    {
        var path = $"/api/cases/{id}";
        (await clinic.Histotech.PostAsync($"{path}/anaesthetic", Dose())).Expect(201);
        (await clinic.Surgeon.PostAsync($"{path}/anaesthetic/1/void", Some.Json("""{ "reason": "wrong patient" }"""))).Expect(200);
        (await clinic.Surgeon.PostAsync($"{path}/repair", Repair())).Expect(201);
        (await clinic.Surgeon.PostAsync($"{path}/visits", Visit("2026-06-03", recurrence: false))).Expect(201);
        (await clinic.Histotech.PostAsync($"{path}/stages/1/blocks/A/permanent-section", new JsonObject { ["sentAt"] = "2026-03-03T12:00:00-05:00" })).Expect(201);
        (await clinic.Surgeon.PostAsync($"{path}/stages/1/blocks/A/permanent-section/result", Some.Json("""{ "outcome": "tumour", "reportedAt": "2026-03-06T12:00:00-05:00" }"""))).Expect(201);
        await clinic.AskSecondReadAsync(id);
        (await clinic.OtherSurgeon.PostAsync($"{path}/second-reads/1/answer", Some.Json("""{ "outcome": "tumour" }"""))).Expect(200);
    }

    /// <summary>Amends the reading of a block of stage 1 in the knowledge of what was shown of it since, and answers every review.</summary>
    public static async Task SettleAsync(this Caller surgeon, string id, string block)
    {
        await surgeon.AmendAsync(id, 1, block, Some.Clear());
        foreach (var review in (await surgeon.GetAsync($"/api/cases/{id}/reviews")).Expect(200).Json.AsArray().Where(review => review!["resolvedAt"] is null))
        {
            (await surgeon.PostAsync($"/api/cases/{id}/reviews/{review!["id"]}/resolution", Some.Json("""{ "decision": "noChange", "note": "read again together" }"""))).Expect(200);
        }
    }

    /// <summary>Two people confirm the site.</summary>
    public static async Task ConfirmSiteAsync(this TestClinic clinic, string id)
    {
        (await clinic.Surgeon.PostAsync($"/api/cases/{id}/site-confirmations", new JsonObject())).Expect(201);
        (await clinic.Histotech.PostAsync($"/api/cases/{id}/site-confirmations", new JsonObject())).Expect(201);
    }

    /// <summary>Asks the other surgeon to read block A of stage 1 blind.</summary>
    public static async Task AskSecondReadAsync(this TestClinic clinic, string id) =>
        (await clinic.Surgeon.PostAsync($"/api/cases/{id}/stages/1/blocks/A/second-reads", new JsonObject { ["readerEmail"] = TestClinic.OtherSurgeonEmail })).Expect(201);
}
