using StagedMargins.Core.ClockFace;
using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Risk;
using StagedMargins.Core.Shape;

namespace StagedMargins.Core.Tests;

/// <summary>Small builders of invented data: a test says only what it is about.</summary>
internal static class Some
{
    public static readonly Guid Clinic = Guid.Parse("11111111-1111-1111-1111-111111111111");
    public static readonly Guid Surgeon = Guid.Parse("22222222-2222-2222-2222-222222222222");
    public static readonly Guid OtherSurgeon = Guid.Parse("33333333-3333-3333-3333-333333333333");
    public static readonly Guid Histotech = Guid.Parse("44444444-4444-4444-4444-444444444444");

    public static readonly Overlap Overlap = new(Core.Mapping.Overlap.UsualMinutes);

    public static ClinicalTime At(int minutes) =>
        ClinicalTime.From(new DateTimeOffset(2026, 3, 3, 9, 0, 0, TimeSpan.FromHours(-5)).AddMinutes(minutes));

    public static Length Mm(decimal millimetres) => Length.FromMillimetres(millimetres);

    /// <summary>An arc from its text, for example <c>07:30-09:00</c>.</summary>
    public static ClockArc Arc(string text) => ClockArc.Parse(text[..5], text[6..]);

    public static ArcSet Arcs(params string[] arcs) => ArcSet.Of(arcs.Select(Arc));

    /// <summary>A region from the texts of its arcs; <c>centre</c> is the middle of the floor.</summary>
    public static MarginRegion Region(params string[] places) =>
        new(Arcs([.. places.Where(place => place != "centre")]), places.Contains("centre"));

    public static EllipseOutline Ellipse(decimal lengthMm = 14, decimal widthMm = 10, string axis = "12:00") =>
        new(Mm(lengthMm), Mm(widthMm), ClockPosition.Parse(axis));

    public static Piece Whole(Outline? outline = null, AnatomicalPlane? plane = null) =>
        new(PieceKind.Whole, null, false, null, outline ?? Ellipse(), plane);

    public static Piece Rim(string arc, decimal widthMm = 2, AnatomicalPlane? plane = null) =>
        new(PieceKind.Rim, Arc(arc), false, Mm(widthMm), null, plane);

    public static Piece Base(string? arc, bool centre = false, AnatomicalPlane? plane = null) =>
        new(PieceKind.Base, arc is null ? null : Arc(arc), centre, null, null, plane);

    public static Piece RimAndBase(string arc, bool centre = false, decimal widthMm = 2, AnatomicalPlane? plane = null) =>
        new(PieceKind.RimAndBase, Arc(arc), centre, Mm(widthMm), null, plane);

    public static BlockEntry Block(string label, string? arc, bool centre = false, int? piece = null) =>
        new(label, arc is null ? null : Arc(arc), centre, null, null, piece);

    public static FindingEntry Found(FindingKind kind, Margin margin, string? arc, bool centre = false) =>
        new(kind, margin, arc is null ? null : Arc(arc), null, centre);

    public static FindingEntry TumourAt(string arc, Margin margin = Margin.Peripheral) => Found(FindingKind.Tumour, margin, arc);

    public static FindingEntry FoundAlong(Margin margin, decimal start, decimal end) =>
        new(FindingKind.Tumour, margin, null, new AlongSlide(start, end, false), false);

    public static CaseFacts Facts(
        string morphology = "8090/3",
        PreOperativeSize? preOperative = null,
        bool? recurrent = null,
        Differentiation? differentiation = null,
        TumourBorder? border = null,
        AnatomicalPlane? deepestPlane = null,
        AreaClass? areaClass = null) => new(
            Site.Of("C44.3", BodySide.Left, "alar crease"),
            areaClass,
            new Tumour(morphology, recurrent, differentiation, border, null, deepestPlane, null, null, null, null, null),
            preOperative,
            null,
            null,
            null,
            []);

    public static PreOperativeSize Lesion(decimal lengthMm, decimal widthMm, string axis = "12:00") =>
        new(Mm(lengthMm), Mm(widthMm), ClockPosition.Parse(axis));

    public static NewCase Opening() => new("C-20417", Surgeon, Facts(), "toward the vertex");

    /// <summary>A case whose site two people have confirmed, unless the test is about that.</summary>
    public static CaseLog Case(bool confirmed = true)
    {
        var surgicalCase = new CaseLog(Clinic, "2026-0142", Opening(), SizeBoundary.BelongsAbove, Histotech, At(0));
        return confirmed ? surgicalCase.Confirm(Surgeon).Confirm(Histotech) : surgicalCase;
    }
}
