using System.Text;
using System.Text.Json.Nodes;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Features.Exchange;

/// <summary>Bundles as a caller sends and gets them.</summary>
internal static class Bundles
{
    /// <summary>The bundle of a case.</summary>
    public static async Task<string> BundleOfAsync(this Caller caller, string id) => (await caller.GetAsync($"/api/cases/{id}/fhir")).Expect(200).Body;

    /// <summary>Imports a bundle.</summary>
    public static Task<Reply> ImportAsync(this Caller caller, string bundle) => caller.PostTextAsync("/api/cases/import", bundle);

    /// <summary>The exact record in a bundle.</summary>
    public static JsonObject RecordIn(string bundle) => JsonNode.Parse(Convert.FromBase64String(JsonNode.Parse(bundle)!["entry"]!.AsArray()
        .Select(part => part!["resource"]!).Single(resource => resource["resourceType"]!.GetValue<string>() == "Binary")["data"]!.GetValue<string>()))!.AsObject();

    /// <summary>A bundle with nothing but a record.</summary>
    public static string Of(JsonObject record) => new JsonObject
    {
        ["resourceType"] = "Bundle",
        ["type"] = "collection",
        ["entry"] = new JsonArray(new JsonObject
        {
            ["resource"] = new JsonObject
            {
                ["resourceType"] = "Binary",
                ["contentType"] = "application/json",
                ["data"] = Convert.ToBase64String(Encoding.UTF8.GetBytes(record.ToJsonString())),
            },
        }),
    }.ToJsonString();
}
