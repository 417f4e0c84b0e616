using System.Globalization;
using System.Text.Json.Nodes;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Features.Exchange;

/// <summary>Compares a case here with the one it was taken over from.</summary>
internal static class CaseComparison
{
    /// <summary>The views of the case, of its margins after every stage, of its risk, its history and its record are the same; an import note follows.</summary>
    public static async Task ShouldBeAsync(Caller there, Caller here, string id)
    {
        var mine = await here.CaseAsync(id);
        mine.Json.ShouldBeJson((await there.CaseAsync(id)).Body);
        string[] views =
        [
            "risk", "risk/assessments", "anaesthetic", "visits",
            .. Enumerable.Range(0, mine.At("stages")!.AsArray().Count + 1).Select(stage => string.Create(CultureInfo.InvariantCulture, $"margins?afterStage={stage}")),
        ];
        foreach (var view in views)
        {
            (await here.GetAsync($"/api/cases/{id}/{view}")).Expect(200).Json.ShouldBeJson((await there.GetAsync($"/api/cases/{id}/{view}")).Expect(200).Body);
        }

        var (history, former) = ((await here.GetAsync($"/api/cases/{id}/history")).Expect(200), (await there.GetAsync($"/api/cases/{id}/history")).Expect(200));
        history.At("chain.intact").ShouldBeJson("true");
        var (entries, formerEntries) = (history.At("entries")!.AsArray(), former.At("entries")!.AsArray());
        entries.Count.ShouldBe(formerEntries.Count + 1);
        entries[^1]!["what"].ShouldBeJson("\"importCase\"");
        foreach (var (entry, formerEntry) in entries.Zip(formerEntries))
        {
            Entered(entry!).ShouldBeJson(Entered(formerEntry!).ToJsonString());
        }

        var (record, formerRecord) = (Bundles.RecordIn(await here.BundleOfAsync(id)), Bundles.RecordIn(await there.BundleOfAsync(id)));
        Said(record, formerEntries.Count).ShouldBeJson(Said(formerRecord, formerEntries.Count).ToJsonString());
    }

    // People have numbers of their own in each clinic.
    private static readonly string[] NamesSomeone = ["surgeonId", "readerId", "accountsMade"];

    // A history is sealed anew where the case is taken over; what was entered, when and by whom is the same.
    private static JsonObject Entered(JsonNode entry)
    {
        var entered = entry.DeepClone().AsObject();
        entered.Remove("hash");
        foreach (var field in NamesSomeone)
        {
            entered["content"]!.AsObject().Remove(field);
        }

        return entered;
    }

    private static JsonArray Said(JsonObject record, int entries)
    {
        var people = record["people"]!.AsArray().ToDictionary(one => one!["id"]!.GetValue<string>(), one => one!["email"]!.GetValue<string>());
        return new JsonArray([.. record["entries"]!.AsArray().Take(entries).Select(entry =>
        {
            var said = entry!.DeepClone().AsObject();
            said["by"] = people[said["by"]!.GetValue<string>()];
            foreach (var field in NamesSomeone.Where(said["content"]!.AsObject().ContainsKey))
            {
                said["content"]![field] = said["content"]![field] is JsonArray many
                    ? new JsonArray([.. many.Select(one => JsonValue.Create(people[one!.GetValue<string>()]))])
                    : people[said["content"]![field]!.GetValue<string>()];
            }

            return said;
        })]);
    }
}
