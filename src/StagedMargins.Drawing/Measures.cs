namespace StagedMargins.Drawing;

/// <summary>Every size of a map in scene units; one set for each detail.</summary>
internal sealed record Measures
{
    internal static readonly Measures Full = new()
    {
        Width = 1200, Margin = 48, Gap = 18,
        Heading = 36, Body = 19, Small = 16, Numeral = 30, Sign = 18,
        RingOuter = 384, RingInner = 338, ShapeRadius = 286, InkedShapeRadius = 250,
        Band = 22, TargetOffset = 7, TargetBand = 17, CentreDisc = 34, HatchStep = 9, DotStep = 8,
        Line = 2, Strong = 3.5, LabelWidth = 150, BarLongest = 220,
    };

    internal static readonly Measures Compact = new()
    {
        Width = 320, Margin = 14, Gap = 8,
        Heading = 19, Body = 13, Small = 11.5, Numeral = 19, Sign = 13,
        RingOuter = 142, RingInner = 114, ShapeRadius = 92, InkedShapeRadius = 92,
        Band = 13, TargetOffset = 4, TargetBand = 10, CentreDisc = 15, HatchStep = 6, DotStep = 5,
        Line = 1.2, Strong = 2.2, LabelWidth = 0, BarLongest = 90,
    };

    /// <summary>Width of the picture.</summary>
    internal required double Width { get; init; }

    /// <summary>Empty border of the page.</summary>
    internal required double Margin { get; init; }

    /// <summary>Space between parts of the page.</summary>
    internal required double Gap { get; init; }

    /// <summary>Text of the case number.</summary>
    internal required double Heading { get; init; }

    /// <summary>Usual text.</summary>
    internal required double Body { get; init; }

    /// <summary>Text of tables and notes.</summary>
    internal required double Small { get; init; }

    /// <summary>Text of the clock's numerals.</summary>
    internal required double Numeral { get; init; }

    /// <summary>Text of a sign on a mark, such as "?".</summary>
    internal required double Sign { get; init; }

    /// <summary>Outer radius of the clock ring.</summary>
    internal required double RingOuter { get; init; }

    /// <summary>Inner radius of the clock ring.</summary>
    internal required double RingInner { get; init; }

    /// <summary>How far the defect reaches from the centre.</summary>
    internal required double ShapeRadius { get; init; }

    /// <summary>The same where names of inks stand between defect and ring.</summary>
    internal required double InkedShapeRadius { get; init; }

    /// <summary>Widest band of a mark on the edge.</summary>
    internal required double Band { get; init; }

    /// <summary>From the edge outward to the target.</summary>
    internal required double TargetOffset { get; init; }

    /// <summary>Width of the target's band.</summary>
    internal required double TargetBand { get; init; }

    /// <summary>Largest radius of the disc of the floor's centre.</summary>
    internal required double CentreDisc { get; init; }

    /// <summary>Distance between hatch lines.</summary>
    internal required double HatchStep { get; init; }

    /// <summary>Distance between dots.</summary>
    internal required double DotStep { get; init; }

    /// <summary>Width of a usual line.</summary>
    internal required double Line { get; init; }

    /// <summary>Width of a line that must be seen first.</summary>
    internal required double Strong { get; init; }

    /// <summary>Widest label beside the clock face; 0 for none.</summary>
    internal required double LabelWidth { get; init; }

    /// <summary>Longest scale bar.</summary>
    internal required double BarLongest { get; init; }

    /// <summary>True where there is room beside the clock face, and for tables below it.</summary>
    internal bool IsWide => LabelWidth > 0;

    /// <summary>Width between the margins.</summary>
    internal double Inner => Width - (2 * Margin);

    /// <summary>The sizes for a detail.</summary>
    internal static Measures For(MapDetail detail) => detail == MapDetail.Full ? Full : Compact;
}
