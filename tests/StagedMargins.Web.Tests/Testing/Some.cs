using System.Globalization;
using System.Text.Json.Nodes;

namespace StagedMargins.Web.Tests.Testing;

/// <summary>Bodies of requests as a test needs them: complete and right, to be changed where the test is about a field.</summary>
public static class Some
{
    private static int counter;

    /// <summary>A patient reference that no other test uses.</summary>
    public static string PatientRef() => string.Create(CultureInfo.InvariantCulture, $"T-{Interlocked.Increment(ref counter):00000}");

    /// <summary>A case with everything that must be there.</summary>
    public static JsonObject Case() => Json($$"""
        { "patientRef": "{{PatientRef()}}", "surgeonEmail": "{{TestClinic.SurgeonEmail}}",
          "site": { "code": "C44.3", "side": "left", "detail": "alar crease" }, "areaClass": "H",
          "tumour": { "morphology": "8070/3", "recurrent": false, "differentiation": "moderate" },
          "preOperative": { "lengthMm": 9, "widthMm": 7 }, "twelveOClock": "toward the vertex" }
        """);

    /// <summary>A first layer 14 × 10 mm in the blocks A 12:00–06:00 and B 06:00–12:00, both with the centre.</summary>
    public static JsonObject WholeLayer() => Json("""
        { "takenAt": "2026-03-03T09:10:00-05:00",
          "pieces": [ { "kind": "whole", "outline": { "ellipse": { "lengthMm": 14, "widthMm": 10, "axis": "12:00" } } } ],
          "blocks": [ { "label": "A", "arc": { "from": "12:00", "to": "06:00" }, "centre": true, "fromInk": "blue", "toInk": "red" },
                      { "label": "B", "arc": { "from": "06:00", "to": "12:00" }, "centre": true, "fromInk": "red", "toInk": "blue" } ],
          "reasonForUnread": null }
        """);

    /// <summary>A later layer: a rim 2 mm wide, in one block A that covers it.</summary>
    public static JsonObject Rim(string from, string to) => Json($$"""
        { "takenAt": "2026-03-03T10:40:00-05:00",
          "pieces": [ { "kind": "rim", "arc": { "from": "{{from}}", "to": "{{to}}" }, "widthMm": 2 } ],
          "blocks": [ { "label": "A", "arc": { "from": "{{from}}", "to": "{{to}}" } } ] }
        """);

    /// <summary>A clear reading.</summary>
    public static JsonObject Clear() => Json($$"""{ "outcome": "clear", "readerEmail": "{{TestClinic.SurgeonEmail}}", "readAt": "2026-03-03T09:52:00-05:00" }""");

    /// <summary>A reading of tumour on the peripheral margin.</summary>
    public static JsonObject Tumour(string from, string to) => Json($$"""
        { "outcome": "tumour", "readerEmail": "{{TestClinic.SurgeonEmail}}", "readAt": "2026-03-03T09:52:00-05:00",
          "findings": [ { "kind": "tumour", "margin": "peripheral", "arc": { "from": "{{from}}", "to": "{{to}}" } } ] }
        """);

    /// <summary>A block that covers an arc.</summary>
    public static JsonObject Block(string label, string from, string to) =>
        Json($$"""{ "label": "{{label}}", "arc": { "from": "{{from}}", "to": "{{to}}" } }""");

    /// <summary>An end as cleared.</summary>
    public static JsonObject EndCleared() => Json("""{ "outcome": "cleared", "endedAt": "2026-03-03T12:00:00-05:00", "repair": "flap" }""");

    /// <summary>A person as the administrator adds them.</summary>
    public static JsonObject Person(string email, params string[] roles) => new()
    {
        ["email"] = email,
        ["name"] = "Someone of the tests",
        ["roles"] = new JsonArray([.. roles.Select(role => JsonValue.Create(role))]),
    };

    /// <summary>A clinic with its first administrator.</summary>
    public static JsonObject FirstAdministrator(string code, string email, string clinic) => new()
    {
        ["code"] = code,
        ["email"] = email,
        ["name"] = "Someone of the tests",
        ["password"] = TestClinic.Password,
        ["clinic"] = clinic,
        ["timeZone"] = TestClinic.TimeZone,
    };

    /// <summary>An object of JSON.</summary>
    public static JsonObject Json(string text) => JsonNode.Parse(text)!.AsObject();

    /// <summary>The same object with one field, at a path, set.</summary>
    public static JsonObject With(this JsonObject body, string path, JsonNode? value)
    {
        var dot = path.LastIndexOf('.');
        var owner = dot < 0 ? body : body.At(path[..dot])!.AsObject();
        owner[path[(dot + 1)..]] = value;
        return body;
    }

    /// <summary>The same object without a field.</summary>
    public static JsonObject Without(this JsonObject body, string path)
    {
        var dot = path.LastIndexOf('.');
        (dot < 0 ? body : body.At(path[..dot])!.AsObject()).Remove(path[(dot + 1)..]).ShouldBeTrue();
        return body;
    }
}
