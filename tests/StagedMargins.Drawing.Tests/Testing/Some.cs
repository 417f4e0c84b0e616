using StagedMargins.Core;
using StagedMargins.Core.ClockFace;
using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Risk;
using StagedMargins.Core.Shape;

namespace StagedMargins.Drawing.Tests.Testing;

/// <summary>Small builders of invented cases.</summary>
internal static class Some
{
    internal const string PatientRef = "C-90517-Z";

    internal static readonly Overlap Overlap = new(Overlap.UsualMinutes);
    internal static readonly Guid Surgeon = Guid.Parse("0198c0de-0000-7000-8000-000000000001");
    internal static readonly Guid Histotech = Guid.Parse("0198c0de-0000-7000-8000-000000000002");

    private static readonly DateTimeOffset Morning = new(2026, 3, 3, 9, 10, 0, TimeSpan.FromHours(-5));

    internal static ClinicalTime At(int minutes) => ClinicalTime.From(Morning.AddMinutes(minutes));

    internal static CaseLog Case(string twelveOClock = "toward the vertex") => new(
        Guid.Parse("0198c0de-0000-7000-8000-00000000000c"),
        "2026-0142",
        new NewCase(PatientRef, Surgeon, Facts(), twelveOClock),
        SizeBoundary.BelongsAbove,
        Surgeon,
        At(-30));

    internal static ClockArc Arc(string from, string to) => ClockArc.Parse(from, to);

    internal static Piece Ellipse(decimal length = 14, decimal width = 10, string axis = "12:00") => Whole(
        new EllipseOutline(Length.FromMillimetres(length), Length.FromMillimetres(width), ClockPosition.Parse(axis)));

    internal static Piece Whole(Outline outline) => new(PieceKind.Whole, null, false, null, outline, null);

    internal static Piece Rim(string from, string to, decimal width = 2) =>
        new(PieceKind.Rim, Arc(from, to), false, Length.FromMillimetres(width), null, null);

    internal static Piece Base(string? from, string? to, bool centre, AnatomicalPlane? plane = AnatomicalPlane.SubcutaneousFat) =>
        new(PieceKind.Base, from is null ? null : Arc(from, to!), centre, null, null, plane);

    internal static BlockEntry Block(string label, string from, string to, string? fromInk = "blue", string? toInk = "red", bool centre = false) =>
        new(label, Arc(from, to), centre, fromInk, toInk);

    /// <summary>Blocks of equal length from 12 o'clock, inked in turn; the last ends in the ink with which the first begins.</summary>
    internal static IReadOnlyList<BlockEntry> Blocks(int count, params string[] inks)
    {
        string[] names = inks.Length == 0 ? ["blue", "red", "green", "yellow", "black", "orange"] : inks;
        int At(int i) => i * 720 / count % 720;
        return
        [
            .. Enumerable.Range(0, count).Select(i => new BlockEntry(
                Label(i), new ClockArc(new ClockPosition(At(i)), new ClockPosition(At(i + 1))), count <= 4, names[i % names.Length], names[(i + 1) % count % names.Length])),
        ];
    }

    internal static string Label(int i) => i < 26 ? $"{(char)('A' + i)}" : $"A{(char)('A' + i - 26)}";

    internal static CaseLog Taken(this CaseLog to, IReadOnlyList<Piece> pieces, IReadOnlyList<BlockEntry> blocks, string? reason = null)
    {
        var at = At(to.Case.Stages.Count * 50);
        to.RecordLayer(new Layer(at, pieces, blocks, reason), Overlap, Surgeon, at);
        return to;
    }

    internal static CaseLog Clear(this CaseLog to, params string[] labels)
    {
        foreach (var label in labels)
        {
            to.Read(label, ReadingOutcome.Clear);
        }

        return to;
    }

    internal static CaseLog Tumour(this CaseLog to, string label, params FindingEntry[] findings) =>
        to.Read(label, ReadingOutcome.Tumour, findings);

    internal static CaseLog Read(this CaseLog to, string label, ReadingOutcome outcome, params FindingEntry[] findings) =>
        to.ReadBy(Surgeon, label, outcome, findings);

    internal static CaseLog ReadBy(this CaseLog to, Guid writer, string label, ReadingOutcome outcome, params FindingEntry[] findings)
    {
        var stage = to.Case.Stages[^1];
        var at = At((stage.Number * 50) - 10);
        var amends = stage.BlockOf(label).CountingReading?.Id;
        var entry = new ReadingEntry(outcome, Surgeon, at, findings, amends, amends is null ? null : "second look");
        to.RecordReading(stage.Number, label, entry, writer, at);
        return to;
    }

    internal static FindingEntry Edge(string from, string to, FindingKind kind = FindingKind.Tumour) =>
        new(kind, Margin.Peripheral, Arc(from, to), null, false);

    internal static FindingEntry Floor(string from, string to, FindingKind kind = FindingKind.Tumour) =>
        new(kind, Margin.Deep, Arc(from, to), null, false);

    internal static FindingEntry Centre(FindingKind kind = FindingKind.Tumour) => new(kind, Margin.Deep, null, null, true);

    internal static MapRequest Map(this CaseLog surgicalCase, bool cumulative = false, int? stage = null, bool showPatientRef = false) =>
        new(surgicalCase.Case, Overlap, stage ?? surgicalCase.Case.Stages.Count, cumulative, showPatientRef);

    private static CaseFacts Facts() => new(
        Site.Of("C44.3", BodySide.Left, "alar crease"),
        AreaClass.H,
        new Tumour("8070/3", false, Differentiation.Moderate, null, null, null, null, null, null, null, null),
        null, null, null, null, []);
}
