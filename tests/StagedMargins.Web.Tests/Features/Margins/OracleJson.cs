using System.Globalization;
using System.Text.Json.Nodes;
using StagedMargins.Core.Tests.ClockFace;
using StagedMargins.Core.Tests.Oracle;

namespace StagedMargins.Web.Tests.Features.Margins;

/// <summary>The oracle's words as the API takes and sends them.</summary>
internal static class OracleJson
{
    public static JsonNode Piece(OraclePiece piece) => piece.Part switch
    {
        Part.Whole => JsonNode.Parse("""{ "kind": "whole", "outline": { "ellipse": { "lengthMm": 14, "widthMm": 10 } } }""")!,
        Part.Rim => new JsonObject { ["kind"] = "rim", ["arc"] = Arc(piece.Where), ["widthMm"] = 2 },
        Part.Floor => new JsonObject { ["kind"] = "base", ["arc"] = Arc(piece.Where), ["centre"] = piece.Where.Centre, ["partial"] = piece.Partial },
        _ => new JsonObject { ["kind"] = "rimAndBase", ["arc"] = Arc(piece.Where), ["centre"] = piece.Where.Centre, ["widthMm"] = 2, ["partial"] = piece.Partial },
    };

    public static JsonNode Block(OracleBlock block) => new JsonObject
    {
        ["label"] = block.Label,
        ["arc"] = Arc(block.Where),
        ["centre"] = block.Where.Centre,
        ["piece"] = block.Piece + 1,
        ["shows"] = block.Shows switch { 1 => "peripheral", 2 => "deep", _ => "both" },
        ["mirrored"] = block.Mirrored,
        ["replaces"] = block.Replaces is null ? null : new JsonArray(block.Replaces),
    };

    public static JsonObject Reading(OracleReading reading) => new()
    {
        ["outcome"] = Outcome(reading.Result),
        ["findings"] = new JsonArray([.. reading.Findings.Select(Finding)]),
        ["noMoreTissue"] = reading.NoMoreTissue,
    };

    public static JsonObject Evidence(OracleReading shown) => new()
    {
        ["outcome"] = Outcome(shown.Result),
        ["findings"] = new JsonArray([.. shown.Findings.Select(Finding)]),
        ["reason"] = "levels",
    };

    /// <summary>Arcs as they are sent, in one line.</summary>
    public static string Text(JsonNode arcs) => string.Join(", ", arcs.AsArray().Select(arc => $"{arc!["from"]}-{arc["to"]}"));

    /// <summary>The minutes of an array of cells as such arcs.</summary>
    public static string Text(bool[] cells) =>
        string.Join(", ", CellCircle.Runs(cells[..OracleCells.Centre]).Select(run => $"{Position(run.From)}-{Position(run.From + run.Minutes)}"));

    private static JsonNode Finding(OracleFinding finding) => new JsonObject
    {
        ["kind"] = finding.Seen switch
        {
            Seen.Tumour => "tumour",
            Seen.Nerve => "perineuralInvasion",
            Seen.Inflammation => "inflammation",
            Seen.NotSeen => "notSeen",
            Seen.Undetermined => "undetermined",
            _ => "scar",
        },
        ["margin"] = finding.Deep ? "deep" : "peripheral",
        ["arc"] = finding.Slide is null ? Arc(finding.Where) : null,
        ["along"] = finding.Slide is { } slide ? new JsonArray(slide.Start / 1000m, slide.End / 1000m) : null,
        ["mirrored"] = finding.Slide?.Mirrored,
        ["centre"] = finding.Where.Centre,
    };

    private static string Outcome(Result result) => result switch
    {
        Result.Clear => "clear",
        Result.Tumour => "tumour",
        _ => "unreadable",
    };

    private static JsonObject? Arc(Where where) => where.Minutes == 0
        ? null
        : new JsonObject { ["from"] = Position(where.From), ["to"] = Position(where.From + where.Minutes) };

    private static string Position(int minute)
    {
        var hour = minute % 720 / 60;
        return string.Create(CultureInfo.InvariantCulture, $"{(hour == 0 ? 12 : hour):00}:{minute % 60:00}");
    }
}
