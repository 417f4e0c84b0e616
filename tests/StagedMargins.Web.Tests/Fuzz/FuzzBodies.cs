using System.IO.Compression;
using System.Text;
using System.Text.Json.Nodes;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Fuzz;

/// <summary>Bodies of requests: right ones, nearly right ones, and rubbish.</summary>
/// <param name="random">Chance.</param>
/// <param name="values">Values.</param>
public sealed class FuzzBodies(Random random, FuzzValues values)
{
    private const string Hole = "\"@hole@\"";

    /// <summary>A body for an address.</summary>
    public byte[] For(FuzzRoute route)
    {
        var right = Right(route.Pattern);
        return random.Next(20) switch
        {
            < 3 or 10 or 11 or 12 or 13 or 14 => Encoding.UTF8.GetBytes(right.ToJsonString()),
            3 => Rubbish(right.ToJsonString()),
            4 => Encoding.UTF8.GetBytes(values.Json()),
            _ => Encoding.UTF8.GetBytes(Changed(right, random.Next(1, 4))),
        };
    }

    // What each address takes, from the builders that the other tests use; an address without one gets a case.
    private JsonObject Right(string pattern) => pattern switch
    {
        _ when pattern.EndsWith("/stages", StringComparison.Ordinal) || pattern.EndsWith("/rehearsal", StringComparison.Ordinal) => random.Next(3) switch
        {
            0 => Some.WholeLayer(),
            1 => Some.Rim("07:15", "09:15").With("reasonForUnread", "chance"),
            _ => Some.Json("""{ "pieces": [ { "kind": "rimAndBase", "arc": { "from": "01:00", "to": "05:00" }, "centre": true, "widthMm": 2, "plane": "dermis" } ], "blocks": [ { "label": "A", "arc": { "from": "01:00", "to": "05:00" }, "centre": true } ], "reasonForUnread": "chance" }"""),
        },
        _ when pattern.EndsWith("/blocks", StringComparison.Ordinal) => Some.Block($"{(char)random.Next('C', 'Z')}", "02:00", "03:00"),
        _ when pattern.EndsWith("/readings", StringComparison.Ordinal) => random.Next(3) switch
        {
            0 => Some.Clear(),
            1 => Some.Tumour("07:30", "09:00"),
            _ => Some.Json("""{ "outcome": "tumour", "findings": [ { "kind": "tumour", "margin": "deep", "along": [0.25, 0.5], "mirrored": true } ], "note": "chance" }"""),
        },
        _ when pattern.EndsWith("/times", StringComparison.Ordinal) => Some.Json("""{ "receivedAt": "2026-03-03T09:20:00-05:00", "slidesReadyAt": "2026-03-03T09:45:00-05:00" }"""),
        _ when pattern.EndsWith("/end", StringComparison.Ordinal) => random.Next(2) == 0
            ? Some.EndCleared()
            : Some.Json("""{ "outcome": "stoppedNotCleared", "reason": "chance", "plan": "chance", "measuredDefect": { "lengthMm": 14, "widthMm": 10, "plane": "dermis" } }"""),
        _ when pattern.EndsWith("/measured-defect", StringComparison.Ordinal) => Some.Json("""{ "lengthMm": 14, "widthMm": 10, "plane": "dermis", "reason": "chance" }"""),
        _ when pattern.EndsWith("/facts", StringComparison.Ordinal) => Some.Json("""{ "tumour": { "morphology": "8070/3", "depthMm": 7, "perineural": { "present": true, "calibreMm": 0.1 } }, "weightKg": 70, "reason": "chance" }"""),
        _ when pattern.EndsWith("/site-confirmations", StringComparison.Ordinal) => Some.Json("""{ "note": "chance" }"""),
        "/api/people" => Some.Person($"f{random.Next(1000)}@fuzz.invalid", "manager"),
        "/api/clinic" => Some.Json("""{ "name": "Clinic of the tests", "timeZone": "America/Halifax", "overlapMinutes": 15 }"""),
        "/api/auth/login" => Some.Json("""{ "email": "nobody@fuzz.invalid", "password": "not the right one" }"""),
        "/api/auth/refresh" => Some.Json("""{ "refreshToken": "CfDJ8AAAAAAAAAAAAAAAAAAAAAAAAAAA" }"""),
        _ => Some.Case(),
    };

    private string Changed(JsonObject right, int changes)
    {
        var text = right.ToJsonString();
        for (var i = 0; i < changes; i++)
        {
            if (JsonNode.Parse(text) is not JsonObject body)
            {
                return text;
            }

            var changed = Change(body);
            if (changed.Length > 0)
            {
                return body.ToJsonString().Replace(Hole, changed, StringComparison.Ordinal);
            }

            text = body.ToJsonString();
        }

        return text;
    }

    // Changes one place; where the new value may not be JSON, leaves a hole for it and gives it back.
    private string Change(JsonObject body)
    {
        var objects = Objects(body).ToList();
        var owner = objects[random.Next(objects.Count)];
        var names = owner.Select(field => field.Key).ToList();
        if (names.Count == 0)
        {
            owner["extra"] = 1;
            return "";
        }

        var name = names[random.Next(names.Count)];
        switch (random.Next(8))
        {
            case 0:
                owner.Remove(name);
                return "";
            case 1:
                owner[values.Text()] = owner[name]?.DeepClone();
                return "";
            case 2:
                owner[name] = "@hole@";
                return $"1,\"{name}\":2";
            case 3 when owner[name] is JsonArray { Count: > 0 } list:
                for (var many = random.Next(1, 120); many > 0; many--)
                {
                    list.Add(list[0]?.DeepClone());
                }

                return "";
            default:
                owner[name] = "@hole@";
                return values.Json();
        }
    }

    private static IEnumerable<JsonObject> Objects(JsonNode? node) => node switch
    {
        JsonObject o => o.SelectMany(field => Objects(field.Value)).Prepend(o),
        JsonArray list => list.SelectMany(Objects),
        _ => [],
    };

    private byte[] Rubbish(string text) => random.Next(9) switch
    {
        0 => [],
        1 => Encoding.UTF8.GetBytes(text[..random.Next(text.Length)]),
        2 => [0xEF, 0xBB, 0xBF, .. Encoding.UTF8.GetBytes(text)],
        3 => Encoding.Unicode.GetBytes(text),
        4 => [.. Encoding.UTF8.GetBytes(text[..(text.Length / 2)]), 0xC3, 0x28, 0xFF, .. Encoding.UTF8.GetBytes(text[(text.Length / 2)..])],
        5 => Encoding.UTF8.GetBytes(text + text),
        6 => Encoding.UTF8.GetBytes(text + new string(' ', random.Next(1, 1_200_000))),
        7 => Compressed(text),
        _ => RandomBytes(),
    };

    private byte[] RandomBytes()
    {
        var bytes = new byte[random.Next(1, 3000)];
        random.NextBytes(bytes);
        return bytes;
    }

    private static byte[] Compressed(string text)
    {
        using var bytes = new MemoryStream();
        using (var zip = new GZipStream(bytes, CompressionLevel.Fastest))
        {
            zip.Write(Encoding.UTF8.GetBytes(text));
        }

        return bytes.ToArray();
    }
}
