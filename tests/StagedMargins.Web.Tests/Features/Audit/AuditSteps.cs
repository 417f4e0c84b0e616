using System.Text.Json.Nodes;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Features.Audit;

/// <summary>Ended cases for the audit, made over HTTP.</summary>
internal static class AuditSteps
{
    /// <summary>A case cleared after a number of stages, that ended at a moment.</summary>
    internal static async Task<string> EndedAsync(this Caller caller, int stages, string endedAt, JsonObject? opening = null)
    {
        var id = await caller.OpenCaseAsync(opening);
        (await caller.RecordAsync(id, Some.WholeLayer())).Expect(201);
        (await caller.ReadAsync(id, 1, "A", Some.Clear())).Expect(201);
        (await caller.ReadAsync(id, 1, "B", stages == 1 ? Some.Clear() : Some.Tumour("07:30", "09:00"))).Expect(201);
        for (var stage = 2; stage <= stages; stage++)
        {
            (await caller.RecordAsync(id, Some.Rim("07:00", "09:30"))).Expect(201);
            var reading = stage == stages ? Some.Clear() : Some.Tumour("07:30", "09:00");
            (await caller.ReadAsync(id, stage, "A", reading.With("readAt", "2026-03-03T11:10:00-05:00"))).Expect(201);
        }

        (await caller.EndAsync(id, Some.EndCleared().With("endedAt", endedAt))).Expect(200);
        return id;
    }
}
