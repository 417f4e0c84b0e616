using System.Text.Json.Serialization;
using StagedMargins.Core.ClockFace;
using StagedMargins.Core.Shape;

namespace StagedMargins.Core.Mapping;

/// <summary>What a piece of a layer is.</summary>
public enum PieceKind
{
    /// <summary>The first layer: full edge and full base.</summary>
    Whole,

    /// <summary>A strip outside the present edge.</summary>
    Rim,

    /// <summary>A part of the wound floor.</summary>
    Base,

    /// <summary>A strip outside the edge together with the floor under it.</summary>
    RimAndBase,
}

/// <summary>One connected part of a layer. Immutable.</summary>
public sealed record Piece
{
    /// <summary>Makes a piece; which parts it has follows from its kind.</summary>
    /// <param name="kind">What it is.</param>
    /// <param name="arc">Where it lies: required for a rim and a rim with base, optional for a base, absent for a whole layer.</param>
    /// <param name="centre">True where a base takes the middle of the floor. A whole layer always does.</param>
    /// <param name="width">How far a rim reaches outward from the present edge.</param>
    /// <param name="outline">The outline of a whole layer, millimetres around the tumour's centre.</param>
    /// <param name="plane">The deepest plane reached, where it was noted.</param>
    /// <param name="partial">True for a base that is smaller than the whole floor of its arc, so that it renews nothing of the deep margin.</param>
    /// <exception cref="InvalidEntryException">A part is missing that the kind needs, or present that it can't have.</exception>
    public Piece(PieceKind kind, ClockArc? arc, bool centre, Length? width, Outline? outline, AnatomicalPlane? plane, bool partial = false)
    {
        var (isWhole, hasRim) = (kind == PieceKind.Whole, kind is PieceKind.Rim or PieceKind.RimAndBase);
        Need("outline", isWhole, outline is not null, "A whole layer needs its outline.", "Only a whole layer has an outline.");
        Need("widthMm", hasRim, width is not null, "A rim needs its width.", "Only a rim has a width.");
        Need("arc", hasRim, arc is not null, "A rim needs its arc.", kind == PieceKind.Base ? null : "A whole layer is the whole circle; leave the arc out.");
        if (centre && kind == PieceKind.Rim)
        {
            throw new InvalidEntryException("centre", "A rim does not take the centre; record a base, or a rim and base.");
        }

        if (kind == PieceKind.Base && arc is null && !centre)
        {
            throw new InvalidEntryException("arc", "A base needs its arc, or the centre, or both.");
        }

        if (partial && kind is not (PieceKind.Base or PieceKind.RimAndBase))
        {
            throw new InvalidEntryException("partial", "Only a base, or a rim and base, can be partial.");
        }

        (Kind, Arc, Centre, Width, Outline, Plane, Partial) = (kind, arc, centre, width, outline, plane, partial);
    }

    /// <summary>What it is.</summary>
    public PieceKind Kind { get; }

    /// <summary>Where it lies; null for a whole layer and for a base of the centre alone.</summary>
    public ClockArc? Arc { get; }

    /// <summary>True where it was said to take the middle of the floor.</summary>
    public bool Centre { get; }

    /// <summary>How far a rim reaches outward.</summary>
    public Length? Width { get; }

    /// <summary>The outline of a whole layer.</summary>
    public Outline? Outline { get; }

    /// <summary>The deepest plane reached, where it was noted.</summary>
    public AnatomicalPlane? Plane { get; }

    /// <summary>
    /// True where it takes less than the whole floor of its arc from the present edge to the centre. A clock arc has no radius, so such
    /// a piece renews nothing of the deep margin: what lay beside it still stands.
    /// </summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingDefault)]
    public bool Partial { get; }

    /// <summary>The part of a margin that taking this piece renews.</summary>
    public MarginRegion Renews(Margin margin) => Partial && margin == Margin.Deep ? MarginRegion.None : Tissue(margin);

    /// <summary>
    /// The part of a margin of which this piece must be seen: what it takes, partial or not, and for a rim the narrow floor of its own,
    /// on which tumour may lie though the floor of the wound is not renewed.
    /// </summary>
    public MarginRegion Exposes(Margin margin) => Kind == PieceKind.Rim ? MarginRegion.Of(Arc) : Tissue(margin);

    /// <summary>All tissue of the piece, on either margin.</summary>
    public MarginRegion Tissue() => Exposes(Margin.Peripheral).Union(Exposes(Margin.Deep));

    private MarginRegion Tissue(Margin margin) => (Kind, margin) switch
    {
        (PieceKind.Whole, Margin.Peripheral) => MarginRegion.WholePeripheral,
        (PieceKind.Whole, _) => MarginRegion.WholeDeep,
        (PieceKind.Rim, Margin.Deep) or (PieceKind.Base, Margin.Peripheral) => MarginRegion.None,
        (_, Margin.Peripheral) => MarginRegion.Of(Arc),
        _ => MarginRegion.Of(Arc, Centre),
    };

    /// <summary>The same with its outline checked, as for a piece that comes from another record.</summary>
    /// <param name="name">Its place in the layer.</param>
    /// <exception cref="InvalidEntryException">The outline can't be one.</exception>
    internal Piece Checked(string name)
    {
        try
        {
            Outline?.Guard();
            return this;
        }
        catch (InvalidEntryException e)
        {
            throw e.Within($"{name}.outline");
        }
    }

    private static void Need(string field, bool needed, bool present, string missing, string? surplus)
    {
        if (needed && !present)
        {
            throw new InvalidEntryException(field, missing);
        }

        if (present && !needed && surplus is not null)
        {
            throw new InvalidEntryException(field, surplus);
        }
    }
}
