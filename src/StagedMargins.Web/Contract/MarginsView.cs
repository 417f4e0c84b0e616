using System.Text.Json.Serialization;
using StagedMargins.Core;
using StagedMargins.Core.ClockFace;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Shape;

namespace StagedMargins.Web.Contract;

/// <summary>A clock arc as it is sent and taken: <c>HH:MM</c>, clockwise, the end exclusive, equal ends for the whole circle.</summary>
/// <param name="From">Where it begins.</param>
/// <param name="To">Where it ends.</param>
public sealed record ArcBody(string? From, string? To)
{
    /// <summary>An arc as it is sent.</summary>
    public static ArcBody Of(ClockArc arc) => new(arc.From.ToString(), arc.To.ToString());

    /// <summary>An arc as it is sent, or null for none.</summary>
    public static ArcBody? Of(ClockArc? arc) => arc is { } known ? Of(known) : null;

    /// <summary>A set of arcs as it is sent.</summary>
    public static ArcBody[] Of(ArcSet arcs) => [.. arcs.Select(Of)];

    /// <summary>The arc that was taken.</summary>
    /// <exception cref="Core.InvalidEntryException">An end is missing or is not a clock position.</exception>
    public ClockArc ToArc() => ClockArc.Parse(From, To);
}

/// <summary>An alert as it is sent.</summary>
/// <param name="Code">Which.</param>
/// <param name="Margin">On which margin; null where it is of the whole layer.</param>
/// <param name="Arcs">Where.</param>
/// <param name="Centre">True where the centre of the floor is meant.</param>
/// <param name="Message">In a sentence.</param>
public sealed record AlertView(AlertCode Code, Margin? Margin, ArcBody[] Arcs, bool Centre, string Message)
{
    /// <summary>An alert as it is sent.</summary>
    public static AlertView Of(MarginAlert alert) =>
        new(alert.Code, alert.Margin, ArcBody.Of(alert.Region.Arcs), alert.Region.Centre, alert.Message());
}

/// <summary>A place that forbids a step, as it is sent.</summary>
/// <param name="Why">outstanding or unread.</param>
/// <param name="Margin">On which margin.</param>
/// <param name="Arcs">Where.</param>
/// <param name="Centre">True where the centre of the floor is meant.</param>
public sealed record PlaceView(string Why, Margin Margin, ArcBody[] Arcs, bool Centre)
{
    /// <summary>A place as it is sent.</summary>
    public static PlaceView Of(BlockingRegion place) => new(place.Why, place.Margin, ArcBody.Of(place.Region.Arcs), place.Region.Centre);
}

/// <summary>The outer edge as it is sent.</summary>
/// <param name="Outstanding">Where tumour was found that no later layer took.</param>
/// <param name="Unread">What was not adequately seen.</param>
/// <param name="Target">What the next layer should take.</param>
/// <param name="Caution">Where inflammation may hide tumour.</param>
/// <param name="OutstandingMinutes">Clock minutes outstanding.</param>
public sealed record PeripheralView(ArcBody[] Outstanding, ArcBody[] Unread, ArcBody[] Target, ArcBody[] Caution, int OutstandingMinutes)
{
    /// <summary>The outer edge as it is sent.</summary>
    public static PeripheralView Of(MarginState state, MarginRegion target) => new(
        ArcBody.Of(state.Outstanding.Arcs),
        ArcBody.Of(state.Unread.Arcs),
        ArcBody.Of(target.Arcs),
        ArcBody.Of(state.Inflammation.Arcs),
        state.Outstanding.Arcs.Minutes);
}

/// <summary>The floor as it is sent.</summary>
/// <param name="Outstanding">Where tumour was found that no later layer took.</param>
/// <param name="OutstandingCentre">The same for the centre.</param>
/// <param name="Unread">What was not adequately seen.</param>
/// <param name="UnreadCentre">The same for the centre.</param>
/// <param name="Target">What the next layer should take.</param>
/// <param name="TargetCentre">The same for the centre.</param>
/// <param name="Caution">Where inflammation may hide tumour.</param>
/// <param name="CautionCentre">The same for the centre.</param>
/// <param name="OutstandingMinutes">Clock minutes outstanding, the centre not counted.</param>
public sealed record DeepView(
    ArcBody[] Outstanding,
    bool OutstandingCentre,
    ArcBody[] Unread,
    bool UnreadCentre,
    ArcBody[] Target,
    bool TargetCentre,
    ArcBody[] Caution,
    bool CautionCentre,
    int OutstandingMinutes)
{
    /// <summary>The floor as it is sent.</summary>
    public static DeepView Of(MarginState state, MarginRegion target) => new(
        ArcBody.Of(state.Outstanding.Arcs),
        state.Outstanding.Centre,
        ArcBody.Of(state.Unread.Arcs),
        state.Unread.Centre,
        ArcBody.Of(target.Arcs),
        target.Centre,
        ArcBody.Of(state.Inflammation.Arcs),
        state.Inflammation.Centre,
        state.Outstanding.Arcs.Minutes);
}

/// <summary>The computed defect as it is sent, with its place beside the lesion before surgery.</summary>
/// <param name="AreaMm2">Area, mm².</param>
/// <param name="PerimeterMm">Perimeter, mm.</param>
/// <param name="LengthMm">Largest diameter, mm.</param>
/// <param name="WidthMm">Largest extent at right angles to the length, mm.</param>
/// <param name="Plane">The deepest plane noted.</param>
/// <param name="Growth">Area beside the lesion's before surgery; null where no size was taken.</param>
/// <param name="TissueSpared">The comparison with a fixed margin; null where none is published for the tumour.</param>
public sealed record DefectView(
    double AreaMm2,
    double PerimeterMm,
    double LengthMm,
    double WidthMm,
    AnatomicalPlane? Plane,
    double? Growth,
    TissueSparedView? TissueSpared)
{
    /// <summary>The defect after some stages of a case, or null before the first.</summary>
    public static DefectView? Of(SurgicalCase surgicalCase, IEnumerable<Stage> stages)
    {
        if (Defect.After(stages) is not { Size: var size })
        {
            return null;
        }

        var lesion = surgicalCase.Facts.PreOperative?.AreaMm2();
        return new DefectView(
            Figures.Significant(size.AreaMm2),
            Figures.Significant(size.PerimeterMm),
            Figures.Significant(size.LengthMm),
            Figures.Significant(size.WidthMm),
            size.Plane,
            lesion is { } area ? Figures.Significant(size.GrowthFrom(area)) : null,
            TissueSparedView.Of(Core.Shape.TissueSpared.Of(surgicalCase.Facts, size)));
    }
}

/// <summary>The comparison with a fixed margin, as it is sent.</summary>
/// <param name="MarginMm">The published fixed margin, mm.</param>
/// <param name="FixedExcisionMm2">What it would have taken, mm².</param>
/// <param name="SparedMm2">That less the defect, mm².</param>
public sealed record TissueSparedView(double MarginMm, double FixedExcisionMm2, double SparedMm2)
{
    /// <summary>The comparison as it is sent.</summary>
    public static TissueSparedView? Of(TissueSpared? spared) => spared is null
        ? null
        : new TissueSparedView(spared.MarginMm, Figures.Significant(spared.FixedExcisionMm2), Figures.Significant(spared.SparedMm2));
}

/// <summary>The state of the margins as it is sent.</summary>
/// <param name="AfterStage">After which stage.</param>
/// <param name="State">Where the case stands.</param>
/// <param name="Peripheral">The outer edge.</param>
/// <param name="Deep">The floor.</param>
/// <param name="Defect">The computed defect; null before the first layer.</param>
/// <param name="Alerts">What is to be said of that stage now.</param>
/// <param name="UnsignedReadings">How many readings that count lack their reader's signature. Clear is shown only where there are none.</param>
/// <param name="OpenReviews">How many reviews nobody has answered. Clear is shown only where there are none.</param>
/// <param name="ClearedNow">Whether a case that ended as cleared is clear now; null for any other.</param>
public sealed record MarginsView(int AfterStage, CaseState State, PeripheralView Peripheral, DeepView Deep, DefectView? Defect, AlertView[] Alerts, int UnsignedReadings, int OpenReviews, bool? ClearedNow)
{
    /// <summary>The moment as of which they are sent; absent for now.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public AsOfView? AsOf { get; init; }

    /// <summary>The margins of a case as they are sent.</summary>
    /// <param name="margins">The margins.</param>
    /// <param name="surgicalCase">The case.</param>
    /// <param name="stages">The stages they follow from.</param>
    public static MarginsView Of(CaseMargins margins, SurgicalCase surgicalCase, IEnumerable<Stage> stages) => new(
        margins.AfterStage,
        margins.State,
        PeripheralView.Of(margins.Peripheral, margins.Target(Margin.Peripheral)),
        DeepView.Of(margins.Deep, margins.Target(Margin.Deep)),
        DefectView.Of(surgicalCase, stages),
        [.. margins.Alerts.Select(AlertView.Of)],
        surgicalCase.ToBeCountersigned().Count,
        surgicalCase.OpenReviews().Count(),
        surgicalCase.ClearedNow);
}

/// <summary>Figures as they are sent.</summary>
public static class Figures
{
    /// <summary>Rounds to six significant digits, beyond what any of these figures can be measured.</summary>
    public static double Significant(double value)
    {
        if (value == 0)
        {
            return 0;
        }

        var digits = 5 - (int)Math.Floor(Math.Log10(Math.Abs(value)));
        return digits is >= 0 and <= 15 ? Math.Round(value, digits) : value;
    }
}
