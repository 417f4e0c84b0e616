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
        Part.Floor => new Piece(PieceKind.Base, Arc(piece.Where), piece.Where.Centre, null, null, null),
        _ => new Piece(PieceKind.RimAndBase, Arc(piece.Where), piece.Where.Centre, Some.Mm(2), null, null),
    };

    public static BlockEntry Block(OracleBlock block) =>
        new(block.Label, Arc(block.Where), block.Where.Centre, null, null, block.Piece + 1);

    public static ReadingEntry Reading(OracleReading reading) => new(
        reading.Result switch
        {
            Result.Clear => ReadingOutcome.Clear,
            Result.Tumour => ReadingOutcome.Tumour,
            _ => ReadingOutcome.Unreadable,
        },
        Some.Surgeon,
        Some.At(29),
        [.. reading.Findings.Select(Finding)]);

    private static FindingEntry Finding(OracleFinding finding) => new(
        finding.Seen switch
        {
            Seen.Tumour => FindingKind.Tumour,
            Seen.Nerve => FindingKind.PerineuralInvasion,
            Seen.Inflammation => FindingKind.Inflammation,
            _ => FindingKind.Scar,
        },
        finding.Deep ? Margin.Deep : Margin.Peripheral,
        finding.Slide is null ? Arc(finding.Where) : null,
        finding.Slide is { } slide ? new AlongSlide(slide.Start / 1000m, slide.End / 1000m, slide.Mirrored) : null,
        finding.Where.Centre);

    private static ClockArc? Arc(Where where) =>
        where.Minutes == 0 ? null : ClockArc.Starting(new ClockPosition(where.From), where.Minutes);
}
