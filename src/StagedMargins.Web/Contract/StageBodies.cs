using StagedMargins.Core;
using StagedMargins.Core.Entries;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Shape;
using StagedMargins.Storage.Clinics;
using StagedMargins.Web.Problems;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Contract;

/// <summary>An ellipse as it is sent and taken.</summary>
/// <param name="LengthMm">Full length along the axis, mm.</param>
/// <param name="WidthMm">Full width at right angles, mm.</param>
/// <param name="Axis">Where its length points, HH:MM; 12:00 where absent.</param>
public sealed record EllipseBody(decimal? LengthMm, decimal? WidthMm, string? Axis);

/// <summary>An outline as it is sent and taken: an ellipse or a trace.</summary>
/// <param name="Ellipse">An ellipse around the tumour's centre.</param>
/// <param name="Trace">Points [x, y] in mm, x toward 3 o'clock and y toward 12 o'clock, once around the tumour's centre.</param>
public sealed record OutlineBody(EllipseBody? Ellipse, decimal[]?[]? Trace);

/// <summary>A piece as it is sent and taken.</summary>
/// <param name="Kind">What it is. Required.</param>
/// <param name="Arc">Where it lies.</param>
/// <param name="Centre">True where it takes the middle of the floor.</param>
/// <param name="WidthMm">How far a rim reaches outward, mm.</param>
/// <param name="Outline">The outline of a whole layer.</param>
/// <param name="Plane">The deepest plane reached.</param>
/// <param name="Partial">True for a base that is smaller than the whole floor of its arc, from the present edge to the centre.</param>
public sealed record PieceBody(PieceKind? Kind, ArcBody? Arc, bool? Centre, decimal? WidthMm, OutlineBody? Outline, AnatomicalPlane? Plane, bool? Partial = null);

/// <summary>A block as it is taken.</summary>
/// <param name="Label">Unique in its stage. Required.</param>
/// <param name="Arc">The clock arc it covers; null when it holds the centre alone.</param>
/// <param name="Centre">True where it includes the middle of the floor.</param>
/// <param name="FromInk">Ink on the edge where its arc begins.</param>
/// <param name="ToInk">Ink on the edge where its arc ends.</param>
/// <param name="Piece">The piece it was cut from, counted from 1; needed only where two pieces lie under the same hours.</param>
/// <param name="Shows">Which margins its sections show; both where absent.</param>
/// <param name="Mirrored">True where its slides show the mirror image; as the clinic has set it where absent.</param>
/// <param name="Cassette">The cassette that it shares with blocks embedded together with it.</param>
/// <param name="Replaces">Blocks of its stage whose tissue was embedded again in this one.</param>
public sealed record BlockBody(
    string? Label, ArcBody? Arc, bool? Centre, string? FromInk, string? ToInk, int? Piece, ShownMargins? Shows = null, bool? Mirrored = null, string? Cassette = null, string?[]? Replaces = null);

/// <summary>A stage as it is taken.</summary>
/// <param name="TakenAt">When the tissue left the patient; now where absent.</param>
/// <param name="Pieces">Its pieces. Required.</param>
/// <param name="Blocks">Its blocks.</param>
/// <param name="ReasonForUnread">Why it was taken while readings of the last stage were missing.</param>
/// <param name="ReasonForUnconfirmedSite">Why the first layer was taken though two people had not confirmed the site.</param>
/// <param name="Number">The number it is meant to have; refused where it would get another.</param>
/// <param name="ReasonForLeftBehind">Why it leaves tumour where it is, where it does.</param>
public sealed record StageBody(
    DateTimeOffset? TakenAt, PieceBody?[]? Pieces, BlockBody?[]? Blocks, string? ReasonForUnread, string? ReasonForUnconfirmedSite, int? Number, string? ReasonForLeftBehind = null)
{
    /// <summary>Records the layer in the case.</summary>
    /// <exception cref="RuleViolationException">It would be another stage than the sender had in mind.</exception>
    internal Stage Record(Change change)
    {
        if (Number is { } meant && meant != change.Case.Stages.Count + 1)
        {
            throw new RuleViolationException("otherStage", $"This layer would be stage {change.Case.Stages.Count + 1}, not {meant}. Check the case before recording it.");
        }

        return change.Log.RecordLayer(this.ToLayer(change.At, change.Clinic), change.Overlap, change.ById, change.At);
    }
}

/// <summary>Times of a stage as they are taken.</summary>
/// <param name="ReceivedAt">When the tissue was received at the bench.</param>
/// <param name="SlidesReadyAt">When the slides were ready.</param>
public sealed record TimesBody(DateTimeOffset? ReceivedAt, DateTimeOffset? SlidesReadyAt);

/// <summary>Turns stages between their form over HTTP and their meaning.</summary>
internal static class StageTranslation
{
    /// <summary>The layer that was taken.</summary>
    /// <exception cref="InvalidRequestException">A field is at fault.</exception>
    internal static Layer ToLayer(this StageBody body, ClinicalTime now, Clinic clinic)
    {
        var errors = new FieldErrors();
        var takenAt = errors.Collect(null, () => body.TakenAt is { } at ? ClinicalTime.From(at, "takenAt") : now);
        var pieces = ToPieces(body.Pieces, errors);
        var blocks = ToBlocks(body.Blocks, clinic, errors);
        if (body.Pieces is not { Length: > 0 })
        {
            errors.Add("pieces", "Required: at least one piece.");
        }

        var reason = errors.Collect(null, () => FreeText.Optional("reasonForUnread", body.ReasonForUnread));
        var siteReason = errors.Collect(null, () => FreeText.Optional("reasonForUnconfirmedSite", body.ReasonForUnconfirmedSite));
        var leftReason = errors.Collect(null, () => FreeText.Optional("reasonForLeftBehind", body.ReasonForLeftBehind));
        errors.ThrowIfAny();
        return new Layer(takenAt, pieces, blocks, reason, siteReason, leftReason);
    }

    /// <summary>Pieces that were taken; what is wrong with them goes to the errors.</summary>
    internal static IReadOnlyList<Piece> ToPieces(PieceBody?[]? bodies, FieldErrors errors) => Each(bodies, "pieces", RecordLimits.Pieces, errors, ToPiece);

    /// <summary>Blocks that were taken; what is wrong with them goes to the errors.</summary>
    internal static IReadOnlyList<BlockEntry> ToBlocks(BlockBody?[]? bodies, Clinic clinic, FieldErrors errors) => Each(bodies, "blocks", RecordLimits.Blocks, errors, block => block.ToEntry(clinic));

    internal static IReadOnlyList<MomentTime> ToMoments(this TimesBody body)
    {
        var times = new List<MomentTime>();
        if (body.ReceivedAt is { } received)
        {
            times.Add(new MomentTime(StageMoment.Received, ClinicalTime.From(received, "receivedAt")));
        }

        if (body.SlidesReadyAt is { } ready)
        {
            times.Add(new MomentTime(StageMoment.SlidesReady, ClinicalTime.From(ready, "slidesReadyAt")));
        }

        return times;
    }

    /// <summary>The block as it is handed in, mirrored as the clinic has set it where it says nothing.</summary>
    internal static BlockEntry ToEntry(this BlockBody body, Clinic clinic) => new(
        body.Label ?? throw new InvalidEntryException("label", "Required."),
        ToArc(body.Arc),
        body.Centre ?? false,
        FreeText.Optional("fromInk", body.FromInk, Block.LongestInk),
        FreeText.Optional("toInk", body.ToInk, Block.LongestInk),
        body.Piece,
        body.Shows ?? ShownMargins.Both,
        body.Mirrored ?? clinic.MirroredBlocks,
        FreeText.Optional("cassette", body.Cassette, 20),
        body.Replaces is null ? null : [.. body.Replaces.Select(label => label ?? throw new InvalidEntryException("replaces", "Labels of blocks."))]);

    internal static PieceBody ToBody(this Piece piece) => new(
        piece.Kind,
        ArcBody.Of(piece.Arc),
        piece.Kind == PieceKind.Whole || piece.Centre,
        piece.Width?.ToMm(),
        piece.Outline switch
        {
            EllipseOutline e => new OutlineBody(new EllipseBody(e.Length.ToMm(), e.Width.ToMm(), e.Axis.ToString()), null),
            TraceOutline t => new OutlineBody(null, [.. t.Points.Select(point => new[] { point.X / 1000m, point.Y / 1000m })]),
            _ => null,
        },
        piece.Plane,
        piece.Kind is PieceKind.Base or PieceKind.RimAndBase ? piece.Partial : null);

    /// <summary>An arc that may be left out.</summary>
    internal static Core.ClockFace.ClockArc? ToArc(ArcBody? arc)
    {
        try
        {
            return arc?.ToArc();
        }
        catch (InvalidEntryException e)
        {
            throw new InvalidEntryException("arc", e.Message);
        }
    }

    private static Piece ToPiece(PieceBody body) => new(
        body.Kind ?? throw new InvalidEntryException("kind", $"Required, one of: {string.Join(", ", EnumNames<PieceKind>.All)}."),
        ToArc(body.Arc),
        body.Centre ?? false,
        body.WidthMm is null ? null : body.WidthMm.ToLength("widthMm"),
        ToOutline(body.Outline),
        body.Plane,
        body.Partial ?? false);

    private static Outline? ToOutline(OutlineBody? body) => body switch
    {
        null => null,
        { Ellipse: { } e, Trace: null } => new EllipseOutline(
            e.LengthMm.ToLength("outline.ellipse.lengthMm"), e.WidthMm.ToLength("outline.ellipse.widthMm"), e.Axis.ToPosition("outline.ellipse.axis")),
        { Ellipse: null, Trace: { } trace } => ToTrace(trace),
        _ => throw new InvalidEntryException("outline", "Give either an ellipse or a trace."),
    };

    private static TraceOutline ToTrace(decimal[]?[] trace)
    {
        try
        {
            return TraceOutline.FromMillimetres([.. trace.Select(point => point is [var x, var y]
                ? (x, y)
                : throw new InvalidEntryException("trace", "Each point is [x, y] in mm."))]);
        }
        catch (InvalidEntryException e)
        {
            throw e.Within("outline");
        }
    }

    private static List<TTo> Each<TFrom, TTo>(TFrom?[]? bodies, string field, int most, FieldErrors errors, Func<TFrom, TTo> make)
        where TFrom : class
        where TTo : class
    {
        if (bodies is { } many && many.Length > most)
        {
            errors.Add(field, $"At most {most}.");
            return [];
        }

        return [.. (bodies ?? [])
            .Select((body, i) => body is null ? Missing($"{field}[{i}]") : errors.Collect($"{field}[{i}]", () => make(body)))
            .OfType<TTo>()];

        TTo? Missing(string item)
        {
            errors.Add(item, "Must be an object.");
            return null;
        }
    }
}
