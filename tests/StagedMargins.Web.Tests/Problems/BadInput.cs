using System.Text.Json.Nodes;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Problems;

/// <summary>A request that can't be taken.</summary>
/// <param name="Path">Where it is sent; <c>{id}</c> stands for a case with stage 1 recorded (blocks A and B), A read clear.</param>
/// <param name="Body">The body, as it stands.</param>
/// <param name="Field">The field that the refusal names.</param>
/// <param name="Status">The status.</param>
public sealed record BadInput(string Path, string Body, string? Field, int Status = 400);

/// <summary>Requests that can't be taken, by what is wrong with them.</summary>
public static class BadInputs
{
    private const string Cases = "/api/cases";
    private const string Stages = "/api/cases/{id}/stages";
    private const string Blocks = "/api/cases/{id}/stages/1/blocks";
    private const string Times = "/api/cases/{id}/stages/1/times";
    private const string Readings = "/api/cases/{id}/stages/1/blocks/B/readings";
    private const string End = "/api/cases/{id}/end";
    private const string Correction = "/api/cases/{id}/stages/1/correction";
    private const string Signatures = "/api/cases/{id}/countersignatures";
    private const string Measure = "/api/cases/{id}/measured-defect";

    /// <summary>All of them.</summary>
    public static IReadOnlyDictionary<string, BadInput> All { get; } =
        new[] { OfJson(), OfCases(), OfLayers(), OfOutlines(), OfBlocks(), OfReadings(), OfEndings(), OfCorrections() }.SelectMany(part => part).ToDictionary();

    private static Dictionary<string, BadInput> OfJson() => new()
    {
        ["no body"] = new(Cases, "", "body"),
        ["null body"] = new(Cases, "null", "body"),
        ["a list as body"] = new(Cases, "[]", "body"),
        ["a text as body"] = new(Cases, "\"case\"", "body"),
        ["broken off"] = new(Cases, """{ "patientRef": "X" """, null),
        ["a trailing comma"] = new(Cases, """{ "patientRef": "X", }""", null),
        ["a comment"] = new(Cases, """{ /* note */ "patientRef": "X" }""", null),
        ["two documents"] = new(Cases, "{}{}", null),
        ["deep nesting"] = new(Cases, $"{{\"site\":{new string('[', 500)}{new string(']', 500)}}}", null),
        ["deep nesting of objects"] = new(Cases, string.Concat(Enumerable.Repeat("{\"site\":", 300)) + "1" + new string('}', 300), null),
        ["an unknown field"] = new(Cases, Some.Case().With("pateintRef", "X").ToJsonString(), "pateintRef"),
        ["an unknown field in another case of letters"] = new(Cases, Some.Case().With("PatientRef", "X").ToJsonString(), "PatientRef"),
        ["an unknown nested field"] = new(Cases, Some.Case().With("site.sied", "left").ToJsonString(), "site.sied"),
        ["an unknown field in a list"] = new(Stages, Changed(Some.Rim("01:00", "02:00"), layer => layer["pieces"]![0]!["width"] = 2), "pieces[0].width"),
        ["an unknown field of a finding"] = new(Readings, Changed(Some.Tumour("07:00", "08:00"), reading => reading["findings"]![0]!["arcs"] = 1), "findings[0].arcs"),
        ["a field twice"] = new(Cases, Some.Case().ToJsonString().Replace("\"areaClass\":\"H\"", "\"areaClass\":\"H\",\"areaClass\":\"L\"", StringComparison.Ordinal), "areaClass"),
        ["a nested field twice"] = new(Cases, Some.Case().ToJsonString().Replace("\"side\":\"left\"", "\"side\":\"left\",\"side\":\"right\"", StringComparison.Ordinal), "site.side"),
        ["a number as text"] = new(Cases, Some.Case().With("preOperative.lengthMm", "9").ToJsonString(), "preOperative.lengthMm"),
        ["a text as number"] = new(Cases, Some.Case().With("patientRef", 20417).ToJsonString(), "patientRef"),
        ["a text as yes or no"] = new(Cases, Some.Case().With("tumour.recurrent", "no").ToJsonString(), "tumour.recurrent"),
        ["a list as object"] = new(Cases, Some.Case().With("site", new JsonArray()).ToJsonString(), "site"),
        ["an object as list"] = new(Stages, Some.Rim("01:00", "02:00").With("pieces", new JsonObject()).ToJsonString(), "pieces"),
        ["half a surrogate pair"] = new(Cases, Some.Case().ToJsonString().Replace("alar crease", "alar \\ud83d crease", StringComparison.Ordinal), null),
        ["the other half of a surrogate pair"] = new(Cases, Some.Case().ToJsonString().Replace("alar crease", "alar \\ude00 crease", StringComparison.Ordinal), null),
        ["half a surrogate pair as a field name"] = new(Cases, """{ "\ud83d": 1 }""", null),
    };

    private static Dictionary<string, BadInput> OfCases() => new()
    {
        ["an empty case"] = new(Cases, "{}", "patientRef"),
        ["no patient reference"] = new(Cases, Some.Case().Without("patientRef").ToJsonString(), "patientRef"),
        ["a blank patient reference"] = new(Cases, Some.Case().With("patientRef", " \t ").ToJsonString(), "patientRef"),
        ["a long patient reference"] = new(Cases, Some.Case().With("patientRef", new string('x', 65)).ToJsonString(), "patientRef"),
        ["NUL in the patient reference"] = new(Cases, Some.Case().With("patientRef", "a\0b").ToJsonString(), "patientRef"),
        ["no site"] = new(Cases, Some.Case().Without("site").ToJsonString(), "site.code"),
        ["a site without point"] = new(Cases, Some.Case().With("site.code", "C443").ToJsonString(), "site.code"),
        ["a site with a line end"] = new(Cases, Some.Case().With("site.code", "C44.3\n").ToJsonString(), "site.code"),
        ["a side that is none"] = new(Cases, Some.Case().With("site.side", "Left").ToJsonString(), "site.side"),
        ["an enum as number"] = new(Cases, Some.Case().With("site.side", 1).ToJsonString(), "site.side"),
        ["an enum as number in quotes"] = new(Cases, Some.Case().With("site.side", "1").ToJsonString(), "site.side"),
        ["two words of an enum"] = new(Cases, Some.Case().With("areaClass", "H, M").ToJsonString(), "areaClass"),
        ["a long detail"] = new(Cases, Some.Case().With("site.detail", new string('x', 201)).ToJsonString(), "site.detail"),
        ["NUL in the detail"] = new(Cases, Some.Case().With("site.detail", "a\0b").ToJsonString(), "site.detail"),
        ["no tumour"] = new(Cases, Some.Case().Without("tumour").ToJsonString(), "tumour.morphology"),
        ["a morphology of another kind"] = new(Cases, Some.Case().With("tumour.morphology", "C44.3").ToJsonString(), "tumour.morphology"),
        ["no twelve o'clock"] = new(Cases, Some.Case().Without("twelveOClock").ToJsonString(), "twelveOClock"),
        ["a length of nothing"] = new(Cases, Some.Case().With("preOperative.lengthMm", 0).ToJsonString(), "preOperative.lengthMm"),
        ["a negative length"] = new(Cases, Some.Case().With("preOperative.widthMm", -7).ToJsonString(), "preOperative.widthMm"),
        ["a length missing"] = new(Cases, Some.Case().Without("preOperative.widthMm").ToJsonString(), "preOperative.widthMm"),
        ["a huge number"] = new(Cases, Some.Case().ToJsonString().Replace("\"lengthMm\":9", "\"lengthMm\":1e400", StringComparison.Ordinal), "preOperative.lengthMm"),
        ["a number of thousands of digits"] = new(Cases, Some.Case().ToJsonString().Replace("\"lengthMm\":9", $"\"lengthMm\":{new string('9', 5000)}", StringComparison.Ordinal), "preOperative.lengthMm"),
        ["the largest number there is"] = new(Cases, Some.Case().ToJsonString().Replace("\"lengthMm\":9", "\"lengthMm\":79228162514264337593543950335", StringComparison.Ordinal), "preOperative.lengthMm"),
        ["an axis that is no clock position"] = new(Cases, Some.Case().With("preOperative.axis", "13:00").ToJsonString(), "preOperative.axis"),
        ["a weight out of range"] = new(Cases, Some.Case().With("weightKg", 501).ToJsonString(), "weightKg"),
        ["an indication that is null"] = new(Cases, Some.Case().With("indications", new JsonArray((JsonNode?)null)).ToJsonString(), "indications[0]"),
        ["nerves without a yes or no"] = new(Cases, Some.Case().With("tumour.perineural", new JsonObject()).ToJsonString(), "tumour.perineural.present"),
        ["a surgeon who is none"] = new(Cases, Some.Case().With("surgeonEmail", TestClinic.HistotechEmail).ToJsonString(), "surgeonEmail"),
        ["a surgeon with NUL"] = new(Cases, Some.Case().With("surgeonEmail", "a\0b").ToJsonString(), "surgeonEmail"),
        ["a long case number"] = new(Cases, Some.Case().With("caseNumber", new string('1', 21)).ToJsonString(), "caseNumber"),
        ["a case number with blanks"] = new(Cases, Some.Case().With("caseNumber", "2026 0142").ToJsonString(), "caseNumber"),
        ["NUL in the case number"] = new(Cases, Some.Case().With("caseNumber", "2026\00142").ToJsonString(), "caseNumber"),
    };

    private static Dictionary<string, BadInput> OfLayers() => new()
    {
        ["no pieces"] = new(Stages, Some.Rim("01:00", "02:00").Without("pieces").ToJsonString(), "pieces"),
        ["an empty list of pieces"] = new(Stages, Some.Rim("01:00", "02:00").With("pieces", new JsonArray()).ToJsonString(), "pieces"),
        ["a piece that is null"] = new(Stages, Some.Rim("01:00", "02:00").With("pieces", new JsonArray((JsonNode?)null)).ToJsonString(), "pieces[0]"),
        ["53 pieces"] = new(Stages, Changed(Some.Rim("01:00", "02:00"), layer => layer["pieces"] = Many(53, _ => Some.Rim("01:00", "02:00")["pieces"]![0]!.DeepClone())), "pieces"),
        ["a piece without kind"] = new(Stages, Changed(Some.Rim("01:00", "02:00"), layer => layer["pieces"]![0]!.AsObject().Remove("kind")), "pieces[0].kind"),
        ["a kind that is none"] = new(Stages, Changed(Some.Rim("01:00", "02:00"), layer => layer["pieces"]![0]!["kind"] = "ring"), "pieces[0].kind"),
        ["a second whole layer"] = new(Stages, Some.WholeLayer().With("reasonForUnread", "x").ToJsonString(), "pieces"),
        ["a rim without width"] = new(Stages, Changed(Some.Rim("01:00", "02:00"), layer => layer["pieces"]![0]!.AsObject().Remove("widthMm")), "pieces[0].widthMm"),
        ["a rim of width 0"] = new(Stages, Changed(Some.Rim("01:00", "02:00"), layer => layer["pieces"]![0]!["widthMm"] = 0), "pieces[0].widthMm"),
        ["a rim of width 300.001"] = new(Stages, Changed(Some.Rim("01:00", "02:00"), layer => layer["pieces"]![0]!["widthMm"] = 300.001m), "pieces[0].widthMm"),
        ["a rim without arc"] = new(Stages, Changed(Some.Rim("01:00", "02:00"), layer => layer["pieces"]![0]!.AsObject().Remove("arc")), "pieces[0].arc"),
        ["a rim with the centre"] = new(Stages, Changed(Some.Rim("01:00", "02:00"), layer => layer["pieces"]![0]!["centre"] = true), "pieces[0].centre"),
        ["a rim with an outline"] = new(Stages, Changed(Some.Rim("01:00", "02:00"), layer => layer["pieces"]![0]!["outline"] = Some.WholeLayer()["pieces"]![0]!["outline"]!.DeepClone()), "pieces[0].outline"),
        ["a base of nothing"] = new(Stages, """{ "pieces": [ { "kind": "base" } ] }""", "pieces[0].arc"),
        ["half an arc"] = new(Stages, Changed(Some.Rim("01:00", "02:00"), layer => layer["pieces"]![0]!["arc"]!.AsObject().Remove("to")), "pieces[0].arc"),
        ["an hour that is none"] = new(Stages, Some.Rim("01:00", "13:00").ToJsonString(), "pieces[0].arc"),
        ["a minute that is none"] = new(Stages, Some.Rim("01:00", "02:60").ToJsonString(), "pieces[0].arc"),
        ["an hour of one digit"] = new(Stages, Some.Rim("1:00", "02:00").ToJsonString(), "pieces[0].arc"),
        ["a time without offset"] = new(Stages, Some.Rim("01:00", "02:00").With("takenAt", "2026-03-03T10:40:00").ToJsonString(), "takenAt"),
        ["a day as time"] = new(Stages, Some.Rim("01:00", "02:00").With("takenAt", "2026-03-03").ToJsonString(), "takenAt"),
        ["a time that is none"] = new(Stages, Some.Rim("01:00", "02:00").With("takenAt", "2026-02-30T10:40:00Z").ToJsonString(), "takenAt"),
        ["a time of another age"] = new(Stages, Some.Rim("01:00", "02:00").With("takenAt", "0001-01-01T00:00:00Z").ToJsonString(), "takenAt"),
        ["an offset too far"] = new(Stages, Some.Rim("01:00", "02:00").With("takenAt", "2026-03-03T10:40:00+15:00").ToJsonString(), "takenAt"),
        ["seconds since 1970"] = new(Stages, Some.Rim("01:00", "02:00").With("takenAt", 1772548800).ToJsonString(), "takenAt"),
        ["a long reason"] = new(Stages, Some.Rim("01:00", "02:00").With("reasonForUnread", new string('x', 4001)).ToJsonString(), "reasonForUnread"),
        ["NUL in the reason"] = new(Stages, Some.Rim("01:00", "02:00").With("reasonForUnread", "a\0b").ToJsonString(), "reasonForUnread"),
        ["a stage number with a fraction"] = new(Stages, Some.Rim("01:00", "02:00").With("number", 2.5m).ToJsonString(), "number"),
        ["a stage number beyond counting"] = new(Stages, Some.Rim("01:00", "02:00").With("number", 99999999999).ToJsonString(), "number"),
        ["no moment"] = new(Times, "{}", "receivedAt"),
        ["a moment without offset"] = new(Times, """{ "slidesReadyAt": "2026-03-03T10:40:00" }""", "slidesReadyAt"),
        ["a moment of another age"] = new(Times, """{ "receivedAt": "2500-03-03T10:40:00Z" }""", "receivedAt"),
        ["an unread stage and no reason"] = new(Stages, Some.Rim("01:00", "02:00").ToJsonString(), null, 409),
    };

    private static Dictionary<string, BadInput> OfOutlines() => new()
    {
        ["two outlines in one"] = Rehearsed(outline => outline["trace"] = JsonNode.Parse("[[-5, -5], [5, -5], [0, 5]]"), "pieces[0].outline"),
        ["an outline of nothing"] = Rehearsed(outline => outline.Remove("ellipse"), "pieces[0].outline"),
        ["an ellipse of length 0"] = Rehearsed(outline => outline["ellipse"]!["lengthMm"] = 0, "pieces[0].outline.ellipse.lengthMm"),
        ["an ellipse of width 300.001"] = Rehearsed(outline => outline["ellipse"]!["widthMm"] = 300.001m, "pieces[0].outline.ellipse.widthMm"),
        ["an axis that is none"] = Rehearsed(outline => outline["ellipse"]!["axis"] = "north", "pieces[0].outline.ellipse.axis"),
        ["a trace of two points"] = Traced("[[-5, -5], [5, 5]]"),
        ["a trace of one point thrice"] = Traced("[[1, 1], [1, 1], [1, 1]]"),
        ["a trace that crosses itself"] = Traced("[[-5, -5], [5, 5], [5, -5], [-5, 5]]"),
        ["a trace beside the tumour"] = Traced("[[5, 5], [9, 5], [7, 9]]"),
        ["a trace with a point of three numbers"] = Traced("[[-5, -5, 0], [5, -5, 0], [0, 5, 0]]"),
        ["a trace with a null point"] = Traced("[[-5, -5], null, [0, 5]]"),
        ["a trace far away"] = Traced("[[-5, -5], [5, -5], [0, 300.001]]"),
        ["a trace of 5,001 points"] = Traced(Circle(5001)),
        ["a trace with a text"] = new(Stages, $$"""{ "pieces": [ { "kind": "whole", "outline": { "trace": [["1", 2]] } } ] }""", "pieces[0].outline.trace[0][0]"),
    };

    private static Dictionary<string, BadInput> OfBlocks() => new()
    {
        ["a block without label"] = new(Blocks, Some.Block("C", "01:00", "02:00").Without("label").ToJsonString(), "label"),
        ["a label of five letters"] = new(Blocks, Some.Block("ABCDE", "01:00", "02:00").ToJsonString(), "label"),
        ["a label of a digit"] = new(Blocks, Some.Block("1", "01:00", "02:00").ToJsonString(), "label"),
        ["a label with NUL"] = new(Blocks, Some.Block("C", "01:00", "02:00").With("label", "A\0").ToJsonString(), "label"),
        ["a block of nothing"] = new(Blocks, """{ "label": "C" }""", "arc"),
        ["a block of a piece that is not there"] = new(Blocks, Some.Block("C", "01:00", "02:00").With("piece", 2).ToJsonString(), "piece"),
        ["a long ink"] = new(Blocks, Some.Block("C", "01:00", "02:00").With("fromInk", new string('x', 31)).ToJsonString(), "fromInk"),
        ["a block off the tissue"] = new(Stages, Changed(Some.Rim("01:00", "02:00").With("reasonForUnread", "x"), layer => layer["blocks"]![0]!["arc"]!["to"] = "02:01"), "blocks[0].arc"),
        ["a centre off the tissue"] = new(Stages, Changed(Some.Rim("01:00", "02:00").With("reasonForUnread", "x"), layer => layer["blocks"]![0]!["centre"] = true), "blocks[0].centre"),
        ["a label twice"] = new(Stages, Changed(Some.Rim("01:00", "02:00").With("reasonForUnread", "x"), layer => layer["blocks"]!.AsArray().Add(Some.Block("A", "01:00", "02:00"))), "blocks[1].label"),
        ["53 blocks"] = new(Stages, Changed(Some.Rim("01:00", "02:00").With("reasonForUnread", "x"), layer => layer["blocks"] = Many(53, i => Some.Block(Label(i), "01:00", "02:00"))), "blocks"),
        ["a block that is null"] = new(Stages, Changed(Some.Rim("01:00", "02:00").With("reasonForUnread", "x"), layer => layer["blocks"]!.AsArray().Add(null)), "blocks[1]"),
        ["a label taken"] = new(Blocks, Some.Block("A", "01:00", "02:00").ToJsonString(), null, 409),
    };

    private static Dictionary<string, BadInput> OfReadings() => new()
    {
        ["no outcome"] = new(Readings, Some.Clear().Without("outcome").ToJsonString(), "outcome"),
        ["an outcome that is none"] = new(Readings, Some.Clear().With("outcome", "negative").ToJsonString(), "outcome"),
        ["tumour without a finding"] = new(Readings, Some.Clear().With("outcome", "tumour").ToJsonString(), "findings"),
        ["tumour with inflammation alone"] = Found("""{ "kind": "inflammation", "margin": "deep", "centre": true }""", "findings"),
        ["clear with tumour"] = new(Readings, Some.Tumour("07:00", "08:00").With("outcome", "clear").ToJsonString(), "findings"),
        ["clear with perineural invasion"] = new(Readings, Changed(Some.Tumour("07:00", "08:00").With("outcome", "clear"), reading => reading["findings"]![0]!["kind"] = "perineuralInvasion"), "findings"),
        ["a finding off the block"] = Found("""{ "kind": "tumour", "margin": "peripheral", "arc": { "from": "05:59", "to": "07:00" } }""", "findings[0].arc"),
        ["a finding nowhere"] = Found("""{ "kind": "tumour", "margin": "peripheral" }""", "findings[0].arc"),
        ["a finding by arc and along"] = Found("""{ "kind": "tumour", "margin": "deep", "arc": { "from": "07:00", "to": "08:00" }, "along": [0, 1] }""", "findings[0].along"),
        ["a finding along backwards"] = Found("""{ "kind": "tumour", "margin": "deep", "along": [0.5, 0.25] }""", "findings[0].along"),
        ["a finding along nothing"] = Found("""{ "kind": "tumour", "margin": "deep", "along": [0.5, 0.5] }""", "findings[0].along"),
        ["a finding along beyond the end"] = Found("""{ "kind": "tumour", "margin": "deep", "along": [0.5, 1.0001] }""", "findings[0].along"),
        ["a finding along before the beginning"] = Found("""{ "kind": "tumour", "margin": "deep", "along": [-0.0001, 0.5] }""", "findings[0].along"),
        ["a finding along three numbers"] = Found("""{ "kind": "tumour", "margin": "deep", "along": [0, 0.5, 1] }""", "findings[0].along"),
        ["a finding that is mirrored on a block that is not"] = Found("""{ "kind": "tumour", "margin": "deep", "arc": { "from": "07:00", "to": "08:00" }, "mirrored": true }""", "findings[0].mirrored"),
        ["a peripheral centre"] = Found("""{ "kind": "tumour", "margin": "peripheral", "centre": true }""", "findings[0].centre"),
        ["a finding without margin"] = Found("""{ "kind": "tumour", "arc": { "from": "07:00", "to": "08:00" } }""", "findings[0].margin"),
        ["a finding without kind"] = Found("""{ "margin": "deep", "arc": { "from": "07:00", "to": "08:00" } }""", "findings[0].kind"),
        ["a finding that is null"] = Found("null", "findings[0].kind"),
        ["a finding of the American spelling"] = Found("""{ "kind": "tumor", "margin": "deep", "arc": { "from": "07:00", "to": "08:00" } }""", "findings[0].kind"),
        ["101 findings"] = new(Readings, Changed(Some.Tumour("07:00", "08:00"), reading => reading["findings"] = Many(101, _ => Some.Tumour("07:00", "08:00")["findings"]![0]!.DeepClone())), "findings"),
        ["an amended reading that is no id"] = new(Readings, Some.Clear().With("amends", "the first").ToJsonString(), "amends"),
        ["a reader who is none"] = new(Readings, Some.Clear().With("readerEmail", "nobody@clinic.invalid").ToJsonString(), "readerEmail"),
        ["a reading time without offset"] = new(Readings, Some.Clear().With("readAt", "2026-03-03T09:52:00").ToJsonString(), "readAt"),
        ["a long note"] = new(Readings, Some.Clear().With("note", new string('x', 4001)).ToJsonString(), "note"),
        ["NUL in the note"] = new(Readings, Some.Clear().With("note", "a\0b").ToJsonString(), "note"),
        ["a block read already"] = new("/api/cases/{id}/stages/1/blocks/A/readings", Some.Clear().ToJsonString(), null, 409),
        ["an amendment of nothing"] = new(Readings, Some.Clear().With("amends", Guid.NewGuid().ToString()).With("reason", "x").ToJsonString(), null, 409),
        ["a stage that is not there"] = new("/api/cases/{id}/stages/2/blocks/A/readings", Some.Clear().ToJsonString(), null, 404),
        ["a stage number that is none"] = new("/api/cases/{id}/stages/one/blocks/A/readings", Some.Clear().ToJsonString(), null, 404),
        ["a stage number beyond counting in the path"] = new("/api/cases/{id}/stages/99999999999/blocks/A/readings", Some.Clear().ToJsonString(), null, 404),
        ["a case id that is none"] = new("/api/cases/17/stages/1/blocks/A/readings", Some.Clear().ToJsonString(), null, 404),
    };

    private static Dictionary<string, BadInput> OfEndings() => new()
    {
        ["an end without outcome"] = new(End, "{}", "outcome"),
        ["an outcome that is no end"] = new(End, """{ "outcome": "clear" }""", "outcome"),
        ["a cleared case that continues"] = new(End, Some.EndCleared().With("continuesOn", "2026-03-10").ToJsonString(), null, 409),
        ["a day that is none"] = new(End, """{ "outcome": "continuesLater", "continuesOn": "2026-02-30" }""", "continuesOn"),
        ["an end without offset"] = new(End, Some.EndCleared().With("endedAt", "2026-03-03T12:00:00").ToJsonString(), "endedAt"),
        ["a repair that is none"] = new(End, Some.EndCleared().With("repair", "stitches").ToJsonString(), "repair"),
        ["a long plan"] = new(End, Some.EndCleared().With("plan", new string('x', 4001)).ToJsonString(), "plan"),
        ["a measured defect without width"] = new(End, Some.EndCleared().With("measuredDefect", JsonNode.Parse("""{ "lengthMm": 3 }""")).ToJsonString(), "measuredDefect.widthMm"),
        ["a plane that is none"] = new(Measure, """{ "lengthMm": 14, "widthMm": 10, "plane": "fat" }""", "plane"),
        ["a measured length of 0"] = new(Measure, """{ "lengthMm": 0, "widthMm": 10 }""", "lengthMm"),
        ["a case that is not clear"] = new(End, Some.EndCleared().ToJsonString(), null, 409),
    };

    private static Dictionary<string, BadInput> OfCorrections() => new()
    {
        ["a corrected stage without reason"] = new(Correction, """{ "takenAt": "2026-03-03T09:00:00-04:00" }""", "reason"),
        ["a corrected stage with a blank reason"] = new(Correction, """{ "reason": " ", "takenAt": "2026-03-03T09:00:00-04:00" }""", "reason"),
        ["a correction of nothing in a stage"] = new(Correction, """{ "reason": "x" }""", null),
        ["a corrected stage without pieces"] = new(Correction, """{ "reason": "x", "pieces": [] }""", "pieces"),
        ["a corrected first stage that is a rim"] = new(Correction, """{ "reason": "x", "pieces": [ { "kind": "rim", "arc": { "from": "01:00", "to": "02:00" }, "widthMm": 2 } ] }""", "pieces"),
        ["a corrected block off the tissue"] = new(Correction, """{ "reason": "x", "blocks": [ { "label": "A", "arc": { "from": "01:00", "to": "13:00" } } ] }""", "blocks[0].arc"),
        ["a corrected stage with one label on two blocks"] = new(Correction,
            new JsonObject { ["reason"] = "x", ["blocks"] = new JsonArray(Some.Block("A", "01:00", "02:00"), Some.Block("A", "03:00", "04:00")) }.ToJsonString(), "blocks[1].label"),
        ["a corrected time without offset"] = new(Correction, """{ "reason": "x", "takenAt": "2026-03-03T09:00:00" }""", "takenAt"),
        ["a corrected stage with NUL in the reason"] = new(Correction, """{ "reason": "a\u0000b", "takenAt": "2026-03-03T09:00:00-04:00" }""", "reason"),
        ["a corrected stage that is not there"] = new("/api/cases/{id}/stages/2/correction", """{ "reason": "x", "takenAt": "2026-03-03T09:00:00-04:00" }""", null, 404),
        ["a withdrawn stage without reason"] = new("/api/cases/{id}/stages/1/withdrawal", "{}", "reason"),
        ["a withdrawn stage that is not there"] = new("/api/cases/{id}/stages/2/withdrawal", """{ "reason": "x" }""", null, 404),
        ["a withdrawn reading that is not there"] = new($"/api/cases/{{id}}/readings/{Guid.NewGuid()}/withdrawal", """{ "reason": "x" }""", null, 404),
        ["a withdrawn reading that is no id"] = new("/api/cases/{id}/readings/first/withdrawal", """{ "reason": "x" }""", null, 404),
        ["an open case opened again"] = new("/api/cases/{id}/reopening", """{ "reason": "x" }""", null, 409),
        ["no reading to be signed"] = new(Signatures, """{ "readingIds": [] }""", "readingIds"),
        ["a reading to be signed by what is no id"] = new(Signatures, """{ "readingIds": [ "first" ] }""", "readingIds[0]"),
        ["readings to be signed that are not there"] = new(Signatures, $$"""{ "readingIds": [ "{{Guid.NewGuid()}}" ] }""", null, 404),
        ["an answer to a review that is not there"] = new($"/api/cases/{{id}}/reviews/{Guid.NewGuid()}/resolution", """{ "decision": "observe", "note": "x" }""", null, 404),
        ["an answer to a review without decision"] = new($"/api/cases/{{id}}/reviews/{Guid.NewGuid()}/resolution", """{ "note": "x" }""", "decision"),
        ["an answer to a review by an unknown decision"] = new($"/api/cases/{{id}}/reviews/{Guid.NewGuid()}/resolution", """{ "decision": "wait", "note": "x" }""", "decision"),
        ["corrected facts without reason"] = new("/api/cases/{id}/facts", """{ "patientRef": "C-1" }""", "reason"),
        ["a corrected patient of blanks"] = new("/api/cases/{id}/facts", """{ "patientRef": " ", "reason": "x" }""", "patientRef"),
        ["a corrected surgeon whom nobody knows"] = new("/api/cases/{id}/facts", """{ "surgeonEmail": "nobody@clinic.invalid", "reason": "x" }""", "surgeonEmail"),
        ["corrected words of 12 o'clock that are blank"] = new("/api/cases/{id}/facts", """{ "twelveOClock": "", "reason": "x" }""", "twelveOClock"),
    };

    /// <summary>A polygon of many points around the origin, no two the same.</summary>
    public static string Circle(int points) => $"[{string.Join(',', Enumerable.Range(0, points).Select(i =>
    {
        var (sin, cos) = Math.SinCos(2 * Math.PI * i / points);
        return FormattableString.Invariant($"[{40 * sin:0.###},{40 * cos:0.###}]");
    }))}]";

    /// <summary>Labels A, B, … Z, AA, AB, …</summary>
    public static string Label(int i) => i < 26 ? $"{(char)('A' + i)}" : $"{(char)('A' + (i / 26) - 1)}{(char)('A' + (i % 26))}";

    private static BadInput Traced(string trace) => Rehearsed(
        outline =>
        {
            outline.Remove("ellipse");
            outline["trace"] = JsonNode.Parse(trace);
        },
        "pieces[0].outline.trace");

    private static BadInput Rehearsed(Action<JsonObject> change, string field) =>
        new(Stages, Changed(Some.WholeLayer(), layer => change(layer["pieces"]![0]!["outline"]!.AsObject())), field);

    private static BadInput Found(string finding, string field) =>
        new(Readings, Changed(Some.Tumour("07:00", "08:00"), reading => reading["findings"] = new JsonArray(JsonNode.Parse(finding))), field);

    private static string Changed(JsonObject body, Action<JsonObject> change)
    {
        change(body);
        return body.ToJsonString();
    }

    private static JsonArray Many(int count, Func<int, JsonNode> make) => new([.. Enumerable.Range(0, count).Select(make)]);
}
