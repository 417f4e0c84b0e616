using StagedMargins.Core.Mapping;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Contract;

/// <summary>A block as it is sent.</summary>
/// <param name="Label">Its label.</param>
/// <param name="Arc">The clock arc it covers.</param>
/// <param name="Centre">True where it includes the middle of the floor.</param>
/// <param name="FromInk">Ink where its arc begins.</param>
/// <param name="ToInk">Ink where its arc ends.</param>
/// <param name="Piece">The piece it was cut from, from 1.</param>
/// <param name="Shows">Which margins its sections show.</param>
/// <param name="Mirrored">True where its slides show the mirror image.</param>
/// <param name="Cassette">The cassette that it shares; null where it has one of its own.</param>
/// <param name="Replaces">Blocks whose tissue was embedded again in this one.</param>
/// <param name="Replaced">True where its own tissue was embedded again in another.</param>
/// <param name="Readings">Its readings, oldest first.</param>
public sealed record BlockView(
    string Label,
    ArcBody? Arc,
    bool Centre,
    string? FromInk,
    string? ToInk,
    int Piece,
    ShownMargins Shows,
    bool Mirrored,
    string? Cassette,
    string[] Replaces,
    bool Replaced,
    ReadingView[] Readings)
{
    /// <summary>A block as it is sent.</summary>
    public static BlockView Of(Block block, Stage stage, ClinicPeople people) => new(
        block.Label,
        ArcBody.Of(block.Arc),
        block.Centre,
        block.FromInk,
        block.ToInk,
        block.PieceNumber,
        block.Shows,
        block.Mirrored,
        block.Cassette,
        [.. block.Replaces],
        stage.IsReplaced(block),
        [.. block.Readings.Select(reading => ReadingView.Of(reading, stage, block, people))]);
}

/// <summary>A stage as it is sent.</summary>
/// <param name="Number">Its number, from 1.</param>
/// <param name="TakenAt">When the tissue left the patient.</param>
/// <param name="ReceivedAt">When the tissue was received at the bench.</param>
/// <param name="SlidesReadyAt">When the slides were ready.</param>
/// <param name="Turnaround">How long its steps took.</param>
/// <param name="Pieces">Its pieces.</param>
/// <param name="Blocks">Its blocks.</param>
/// <param name="Alerts">What was said when it was recorded.</param>
/// <param name="OverlapMinutes">The overlap it was planned with, clock minutes on each side.</param>
/// <param name="ReasonForUnread">Why it was taken while readings were missing.</param>
/// <param name="ReasonForUnconfirmedSite">Why it was taken though two people had not confirmed the site.</param>
/// <param name="ReasonForLeftBehind">Why it leaves tumour where it is.</param>
/// <param name="RecordedBy">Who recorded it.</param>
/// <param name="RecordedAt">When it was recorded.</param>
/// <param name="Corrections">What was corrected of it, oldest first.</param>
/// <param name="RemovedBlocks">Blocks that a correction removed, with their readings, which no longer stand.</param>
public sealed record StageView(
    int Number,
    DateTimeOffset TakenAt,
    DateTimeOffset? ReceivedAt,
    DateTimeOffset? SlidesReadyAt,
    TurnaroundView Turnaround,
    PieceBody[] Pieces,
    BlockView[] Blocks,
    AlertView[] Alerts,
    int OverlapMinutes,
    string? ReasonForUnread,
    string? ReasonForUnconfirmedSite,
    string? ReasonForLeftBehind,
    string? RecordedBy,
    DateTimeOffset RecordedAt,
    StageCorrectionView[] Corrections,
    BlockView[] RemovedBlocks)
{
    /// <summary>A stage as it is sent.</summary>
    public static StageView Of(Stage stage, ClinicPeople people) => new(
        stage.Number,
        stage.TakenAt.ToDateTimeOffset(),
        stage.TimeOf(StageMoment.Received)?.ToDateTimeOffset(),
        stage.TimeOf(StageMoment.SlidesReady)?.ToDateTimeOffset(),
        TurnaroundView.Of(Core.Mapping.Turnaround.Of(stage)),
        [.. stage.Pieces.Select(piece => piece.ToBody())],
        [.. stage.Blocks.Select(block => BlockView.Of(block, stage, people))],
        [.. stage.Alerts.Select(AlertView.Of)],
        stage.Overlap.Minutes,
        stage.ReasonForUnread,
        stage.Alerts.FirstOrDefault(alert => alert.Code == AlertCode.SiteNotConfirmed)?.Reason,
        stage.ReasonForLeftBehind,
        people.EmailOf(stage.RecordedById),
        stage.RecordedAt.ToDateTimeOffset(),
        [.. stage.Corrections.Select(correction => StageCorrectionView.Of(correction, people))],
        [.. stage.RemovedBlocks.Select(block => BlockView.Of(block, stage, people))]);
}

/// <summary>How long the steps of a stage took, whole minutes; null where an end is not known or out of order.</summary>
/// <param name="ReceivedMinutes">From taken to received.</param>
/// <param name="SlidesReadyMinutes">From received to slides ready.</param>
/// <param name="ReadMinutes">From slides ready to the last block adequately read.</param>
/// <param name="TotalMinutes">From taken to the last block adequately read.</param>
/// <param name="ReadAt">When the last block was first adequately read; null while one is not.</param>
/// <param name="OutOfOrder">True where the times contradict each other.</param>
public sealed record TurnaroundView(int? ReceivedMinutes, int? SlidesReadyMinutes, int? ReadMinutes, int? TotalMinutes, DateTimeOffset? ReadAt, bool OutOfOrder)
{
    /// <summary>A turnaround as it is sent.</summary>
    public static TurnaroundView Of(Turnaround turnaround) =>
        new(turnaround.ToReceived, turnaround.ToSlidesReady, turnaround.ToRead, turnaround.Whole, turnaround.ReadAt?.ToDateTimeOffset(), turnaround.OutOfOrder);
}

/// <summary>What a layer would do if it were recorded.</summary>
/// <param name="Number">The stage it would be.</param>
/// <param name="Alerts">What would be said.</param>
/// <param name="Margins">The margins it would give.</param>
/// <param name="ReasonNeeded">True where recording needs a reason, because the layer leaves unread tissue where it is.</param>
/// <param name="LastStageUnread">Unread tissue that the layer would leave where it is.</param>
public sealed record LayerPreviewView(int Number, AlertView[] Alerts, MarginsView Margins, bool ReasonNeeded, PlaceView[] LastStageUnread)
{
    /// <summary>A rehearsal as it is sent.</summary>
    public static LayerPreviewView Of(LayerPreview rehearsal, SurgicalCase surgicalCase) => new(
        rehearsal.Stage.Number,
        [.. rehearsal.Alerts.Select(AlertView.Of)],
        MarginsView.Of(rehearsal.Margins, surgicalCase, surgicalCase.Stages.Append(rehearsal.Stage)),
        rehearsal.LeftUnread.Count > 0,
        [.. rehearsal.LeftUnread.Select(PlaceView.Of)]);
}
