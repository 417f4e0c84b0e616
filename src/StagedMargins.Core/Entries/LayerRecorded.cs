using System.Text.Json.Serialization;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Entries;

/// <summary>A layer was taken, as the next stage.</summary>
/// <param name="TakenAt">When the tissue left the patient.</param>
/// <param name="Pieces">Its pieces.</param>
/// <param name="Blocks">Its blocks, each with the piece it was cut from.</param>
/// <param name="ReasonForUnread">Why it was taken while readings of the last stage were missing, where that was so.</param>
/// <param name="ReasonForUnconfirmedSite">Why the first layer was taken though two people had not confirmed the site.</param>
/// <param name="Overlap">The overlap it was planned with.</param>
/// <param name="Alerts">What was said of it at once.</param>
/// <param name="ReasonForLeftBehind">Why it leaves tumour where it is, where that was said.</param>
public sealed record LayerRecorded(
    ClinicalTime TakenAt,
    IReadOnlyList<Piece> Pieces,
    IReadOnlyList<RecordedBlock> Blocks,
    Words? ReasonForUnread,
    Words? ReasonForUnconfirmedSite,
    Overlap Overlap,
    IReadOnlyList<RecordedAlert> Alerts,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] Words? ReasonForLeftBehind = null) : CaseEvent
{
    /// <summary>Its kind.</summary>
    public static readonly CaseEntryKind Kind = CaseEntryKind.For<LayerRecorded>("recordLayer");

    /// <summary>Decides that a layer is recorded.</summary>
    /// <param name="state">The case.</param>
    /// <param name="layer">The layer.</param>
    /// <param name="overlap">The clinic's overlap.</param>
    /// <exception cref="InvalidEntryException">A part of it can't be right.</exception>
    /// <exception cref="RuleViolationException">The case has ended, or the layer leaves unread tissue where it is and no reason was given.</exception>
    public static LayerRecorded Decide(SurgicalCase state, Layer layer, Overlap overlap)
    {
        var (decided, unread) = Plan(state, layer, overlap);
        return unread.Count == 0 || decided.ReasonForUnread is not null
            ? decided
            : throw new RuleViolationException(
                "lastStageUnread",
                $"This layer leaves tissue that was not read: {unread.InSentence()}. Record its readings first, or give a reason for taking another layer before that.",
                [.. unread]);
    }

    /// <summary>What a layer would do, without deciding that it may be recorded.</summary>
    /// <exception cref="InvalidEntryException">A part of it can't be right.</exception>
    /// <exception cref="RuleViolationException">The case has ended.</exception>
    internal static LayerPreview Preview(SurgicalCase state, Layer layer, Overlap overlap, Authorship written)
    {
        var (planned, unread) = Plan(state, layer, overlap);
        var stage = new Stage(planned, state.Stages.Count + 1, written, state.Version + 1);
        return new LayerPreview(stage, state.Margins(overlap).Then(stage), stage.Alerts, unread);
    }

    /// <inheritdoc/>
    public override CaseEvent DecideAgain(SurgicalCase state, Authorship written) => Decide(
        state,
        new Layer(TakenAt, [.. Pieces.Select((piece, i) => piece.Checked($"pieces[{i}]"))], [.. Blocks.Select(block => block.Open())], ReasonForUnread?.Text, ReasonForUnconfirmedSite?.Text, ReasonForLeftBehind?.Text),
        Overlap);

    /// <inheritdoc/>
    public override string Sentence(SurgicalCase before, Func<Guid, string> nameOf) => Sentences.EntryLayer(
        before.Stages.Count + 1,
        string.Join("; ", Pieces.Select(piece => piece.InWords())),
        Blocks.Count == 0 ? Sentences.EntryNoBlocks : Sentences.EntryBlocks(string.Join(", ", Blocks.Select(block => block.Label))));

    internal override SurgicalCase Apply(SurgicalCase state, Authorship written) => state with
    {
        Stages = state.Stages.Plus(new Stage(this, state.Stages.Count + 1, written, state.Version + 1)),
        Pause = null,
    };

    private static (LayerRecorded Planned, IReadOnlyList<BlockingRegion> Unread) Plan(SurgicalCase state, Layer layer, Overlap overlap)
    {
        var number = state.Stages.Count + 1;
        state.GuardOpen("no further layer can be recorded");
        if (number > RecordLimits.Stages)
        {
            throw new InvalidEntryException("number", $"A case has at most {RecordLimits.Stages} stages.");
        }

        var unalerted = new LayerRecorded(
            layer.TakenAt,
            StagePieces.Checked(layer.Pieces, number),
            BlockPlacement.PlaceAll(layer.Pieces, layer.Blocks),
            Words.Of(FreeText.Optional("reasonForUnread", layer.ReasonForUnread)),
            Words.Of(FreeText.Optional("reasonForUnconfirmedSite", layer.ReasonForUnconfirmedSite)),
            overlap,
            [],
            Words.Of(FreeText.Optional("reasonForLeftBehind", layer.ReasonForLeftBehind)));
        var stage = new Stage(unalerted, number, default, state.Version + 1);
        var before = state.Margins(overlap);
        return (unalerted with { Alerts = AlertsFor(state, stage, before.Then(stage)) }, before.LeftUnreadBy(stage));
    }

    // What is said of a layer at once: of the margins, and for the first of a day of the site. Wrong-site surgery is the worst of this
    // field and does not show on any margin.
    private static IReadOnlyList<RecordedAlert> AlertsFor(SurgicalCase state, Stage stage, CaseMargins after)
    {
        var ofMargins = after.Alerts.Concat(LayerAlerts.SmallerThanLesion(state, stage)).Concat(LayerAlerts.OutOfOrder(state, stage)).OrderBy(alert => alert.Code).Select(alert => new RecordedAlert(alert.Code, alert.Margin, alert.Region));
        return state.IsSiteConfirmedFor(stage.TakenAt)
            ? [.. ofMargins]
            : [new RecordedAlert(AlertCode.SiteNotConfirmed, null, MarginRegion.None), .. ofMargins];
    }
}
