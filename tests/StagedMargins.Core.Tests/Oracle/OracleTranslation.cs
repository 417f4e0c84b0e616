using StagedMargins.Core.ClockFace;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Core.Tests.Oracle;

/// <summary>The oracle's words in the program's.</summary>
internal static class OracleTranslation
{
    public static Piece Piece(OraclePiece piece) => piece.Part switch
    {
        Part.Whole => Some.Whole(),
        Part.Rim => new Piece(PieceKind.Rim, Arc(piece.Where), false, Some.Mm(2), null, null),
        Part.Floor => new Piece(PieceKind.Base, Arc(piece.Where), piece.Where.Centre, null, null, null, piece.Partial),
        _ => new Piece(PieceKind.RimAndBase, Arc(piece.Where), piece.Where.Centre, Some.Mm(2), null, null, piece.Partial),
    };

    public static BlockEntry Block(OracleBlock block) =>
        new(
            block.Label,
            Arc(block.Where),
            block.Where.Centre,
            null,
            null,
            block.Piece + 1,
            block.Shows switch { 1 => ShownMargins.Peripheral, 2 => ShownMargins.Deep, _ => ShownMargins.Both },
            block.Mirrored,
            Replaces: block.Replaces is null ? null : [block.Replaces]);

    public static ReadingOutcome Outcome(Result result) => result switch
    {
        Result.Clear => ReadingOutcome.Clear,
        Result.Tumour => ReadingOutcome.Tumour,
        _ => ReadingOutcome.Unreadable,
    };

    public static ReadingEntry Reading(OracleReading reading) => new(
        Outcome(reading.Result),
        Some.Surgeon,
        Some.At(29),
        [.. reading.Findings.Select(Finding)],
        NoMoreTissue: reading.NoMoreTissue);

    public static FindingEntry Finding(OracleFinding finding) => new(
        finding.Seen switch
        {
            Seen.Tumour => FindingKind.Tumour,
            Seen.Nerve => FindingKind.PerineuralInvasion,
            Seen.Inflammation => FindingKind.Inflammation,
            Seen.NotSeen => FindingKind.NotSeen,
            Seen.Undetermined => FindingKind.Undetermined,
            _ => FindingKind.Scar,
        },
        finding.Deep ? Margin.Deep : Margin.Peripheral,
        finding.Slide is null ? Arc(finding.Where) : null,
        finding.Slide is { } slide ? new AlongSlide(slide.Start / 1000m, slide.End / 1000m, slide.Mirrored) : null,
        finding.Where.Centre,
        finding.Slide?.Mirrored);

    private static ClockArc? Arc(Where where) =>
        where.Minutes == 0 ? null : ClockArc.Starting(new ClockPosition(where.From), where.Minutes);
}
