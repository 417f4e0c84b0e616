using System.Globalization;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Shape;
using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Entries;

/// <summary>What of a stage is corrected, as it is handed in; what is null stays.</summary>
/// <param name="TakenAt">When the tissue left the patient.</param>
/// <param name="Pieces">Its pieces.</param>
/// <param name="Blocks">All its blocks.</param>
/// <param name="Reason">Why; required.</param>
public sealed record StageCorrectionEntry(ClinicalTime? TakenAt, IReadOnlyList<Piece>? Pieces, IReadOnlyList<BlockEntry>? Blocks, string? Reason);

/// <summary>Pieces, blocks or the time of a stage were corrected.</summary>
/// <param name="Stage">The stage.</param>
/// <param name="TakenAt">When the tissue left the patient; null where that stays.</param>
/// <param name="Pieces">Its pieces; null where they stay.</param>
/// <param name="Blocks">All its blocks; null where they stay.</param>
/// <param name="Reason">Why.</param>
/// <param name="ChangedBlocks">Labels of blocks that are no longer the same, or whose piece is not: their readings no longer stand.</param>
public sealed record StageCorrected(
    int Stage, ClinicalTime? TakenAt, IReadOnlyList<Piece>? Pieces, IReadOnlyList<RecordedBlock>? Blocks, Words Reason, IReadOnlyList<string> ChangedBlocks) : CaseEvent
{
    /// <summary>Its kind.</summary>
    public static readonly CaseEntryKind Kind = CaseEntryKind.For<StageCorrected>("correctStage");

    /// <summary>Decides that a stage is corrected.</summary>
    /// <exception cref="NotInRecordException">There is no such stage.</exception>
    /// <exception cref="InvalidEntryException">Nothing or no reason was given, or a part of it can't be right.</exception>
    public static StageCorrected Decide(SurgicalCase state, int number, StageCorrectionEntry entry)
    {
        var stage = state.StageOf(number);
        if (entry is { TakenAt: null, Pieces: null, Blocks: null })
        {
            throw new InvalidEntryException("pieces", "Give what is to be corrected: pieces, blocks or the time.");
        }

        var pieces = entry.Pieces is null ? stage.Pieces : StagePieces.Checked(entry.Pieces, number);
        IReadOnlyList<RecordedBlock>? blocks = entry is { Pieces: null, Blocks: null } ? null : BlockPlacement.PlaceAll(pieces, entry.Blocks ?? [.. stage.Blocks.Select(block => block.Recorded.Open())]);
        return new StageCorrected(
            number,
            entry.TakenAt,
            entry.Pieces is null ? null : pieces,
            blocks,
            Words.Of(FreeText.Required("reason", entry.Reason))!,
            blocks is null ? [] : [.. stage.Blocks.Where(block => !Stands(stage, block, pieces, blocks)).Select(block => block.Label)]);
    }

    /// <inheritdoc/>
    public override CaseEvent DecideAgain(SurgicalCase state, Authorship written) => Decide(
        state,
        Stage,
        new StageCorrectionEntry(TakenAt, Pieces is null ? null : [.. Pieces.Select((piece, i) => piece.Checked($"pieces[{i}]"))], Blocks is null ? null : [.. Blocks.Select(block => block.Open())], Reason.Text));

    /// <inheritdoc/>
    public override string Sentence(SurgicalCase before, Func<Guid, string> nameOf) =>
        Sentences.EntryStageCorrected(Stage, ChangesInWords(before.StageOf(Stage)), Sentences.ReasonGiven(Reason.Text));

    /// <summary>What stands now, and for what.</summary>
    internal string ChangesInWords(Stage before)
    {
        var changes = new List<string>();
        Add(Pieces is null ? null : PiecesInWords(Pieces), PiecesInWords(before.Pieces));
        Add(Blocks is null ? null : BlocksInWords(Blocks), BlocksInWords(before.Blocks.Select(block => block.Recorded)));
        Add(TakenAt?.InWords(), before.TakenAt.InWords());
        return changes.Count == 0 ? Sentences.NothingChanged : string.Join("; ", changes);

        void Add(string? now, string then)
        {
            if (now is not null && now != then)
            {
                changes.Add(Sentences.NowForThen(now, then));
            }
        }
    }

    internal override SurgicalCase Apply(SurgicalCase state, Authorship written) =>
        state.With(Stage, stage => stage.Corrected(this, written)).WithoutAwaited(Stage, ChangedBlocks);

    // All that a correction can change stands in these words, so that no correction reads as if it had changed nothing.
    private static string PiecesInWords(IEnumerable<Piece> pieces) => string.Join("; ", pieces.Select(piece => string.Join(
        ", ",
        new[] { piece.InWords(), OutlineInWords(piece.Outline), piece.Plane is { } plane ? Terms.Of(plane) : null, piece.Partial ? Sentences.PartOfFloor : null }.OfType<string>())));

    private static string? OutlineInWords(Outline? outline) => outline switch
    {
        null => null,
        EllipseOutline ellipse => Sentences.EllipseOutline($"{ellipse.Length}", $"{ellipse.Width}", $"{ellipse.Axis}"),
        _ => Sentences.TracedOutline(string.Create(CultureInfo.InvariantCulture, $"{outline.ToPolygon().Area:0.##}")),
    };

    private static string InksInWords(RecordedBlock block) => block is { FromInk: null, ToInk: null }
        ? ""
        : $" ({Sentences.InksAtEnds(block.FromInk?.Text ?? Terms.NotEntered, block.ToInk?.Text ?? Terms.NotEntered)})";

    private static string BlocksInWords(IEnumerable<RecordedBlock> blocks) => string.Join(", ", blocks.Select(block =>
        $"{block.Label} {MarginRegion.Of(block.Arc, block.Centre).InLabel()}{(block.Shows == ShownMargins.Both ? "" : $" ({Terms.Of(block.Shows)})")}{(block.Mirrored ? $" ({Sentences.MirroredBlock})" : "")}{InksInWords(block)}{(block.PieceNumber == 1 ? "" : $" ({Sentences.CutFromPiece(block.PieceNumber)})")}"));

    // A reading stands only where it was read of the same tissue: block and piece as they were.
    private static bool Stands(Stage stage, Block block, IReadOnlyList<Piece> pieces, IReadOnlyList<RecordedBlock> blocks) =>
        blocks.FirstOrDefault(other => Mapping.Block.IsSameLabel(other.Label, block.Label)) is { } now
        && (now.Arc, now.Centre, now.Shows, now.Mirrored, now.FromInk?.Text, now.ToInk?.Text) == (block.Arc, block.Centre, block.Shows, block.Mirrored, block.FromInk, block.ToInk)
        && IsSame(pieces[now.PieceNumber - 1], stage.PieceOf(block));

    private static bool IsSame(Piece one, Piece other) => (one.Kind, one.Arc, one.Centre, one.Partial) == (other.Kind, other.Arc, other.Centre, other.Partial);
}
