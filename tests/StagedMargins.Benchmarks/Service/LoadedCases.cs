using System.Globalization;
using System.Text.Json.Nodes;

namespace StagedMargins.Benchmarks.Service;

/// <summary>Cases for a load run: each with one layer in 40 blocks, none of them read.</summary>
internal static class LoadedCases
{
    internal const int Blocks = 40;
    private const int ClockMinutes = 720;

    /// <summary>Opens them over HTTP and gives their ids.</summary>
    internal static async Task<IReadOnlyList<string>> OpenAsync(HttpClient surgeon, int count)
    {
        var ids = new string[count];
        await Parallel.ForAsync(0, count, new ParallelOptions { MaxDegreeOfParallelism = 8 }, async (i, _) =>
        {
            var opened = await ServiceUnderLoad.PostAsync(surgeon, "/api/cases", new JsonObject
            {
                ["patientRef"] = string.Create(CultureInfo.InvariantCulture, $"L-{i:00000}"),
                ["surgeonEmail"] = ServiceUnderLoad.SurgeonEmail,
                ["site"] = new JsonObject { ["code"] = "C44.3", ["side"] = "left", ["detail"] = "alar crease" },
                ["tumour"] = new JsonObject { ["morphology"] = "8090/3" },
                ["preOperative"] = new JsonObject { ["lengthMm"] = 9, ["widthMm"] = 7 },
                ["twelveOClock"] = "toward the vertex",
            });
            ids[i] = opened["id"]!.GetValue<string>();
            await ServiceUnderLoad.PostAsync(surgeon, $"/api/cases/{ids[i]}/stages", Layer());
        });
        return ids;
    }

    /// <summary>A clear reading of the block of an ordinal, from 0.</summary>
    internal static (string Path, string Body) Reading(string caseId, int block) =>
        ($"/api/cases/{caseId}/stages/1/blocks/{Label(block)}/readings", $$"""{ "outcome": "clear", "readerEmail": "{{ServiceUnderLoad.SurgeonEmail}}", "readAt": "2026-03-03T09:52:00-04:00" }""");

    private static JsonObject Layer() => new()
    {
        ["takenAt"] = "2026-03-03T09:10:00-04:00",
        ["pieces"] = new JsonArray(new JsonObject { ["kind"] = "whole", ["outline"] = new JsonObject { ["ellipse"] = new JsonObject { ["lengthMm"] = 14, ["widthMm"] = 10, ["axis"] = "12:00" } } }),
        ["blocks"] = new JsonArray([.. Enumerable.Range(0, Blocks).Select(i => new JsonObject
        {
            ["label"] = Label(i),
            ["arc"] = new JsonObject { ["from"] = Position(i), ["to"] = Position(i + 1) },
            ["centre"] = true,
        })]),
    };

    private static string Label(int block) => string.Create(CultureInfo.InvariantCulture, $"A{block}");

    private static string Position(int block)
    {
        var minutes = block * (ClockMinutes / Blocks) % ClockMinutes;
        return string.Create(CultureInfo.InvariantCulture, $"{(minutes < 60 ? 12 : minutes / 60):00}:{minutes % 60:00}");
    }
}
