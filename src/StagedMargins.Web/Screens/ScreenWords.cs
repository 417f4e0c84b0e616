using StagedMargins.Core;
using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;

namespace StagedMargins.Web.Screens;

/// <summary>Words of the domain as the pages say them.</summary>
internal static class ScreenWords
{
    /// <summary>What a case waits for, for example <c>B to be read</c>.</summary>
    internal static string Of(Waiting waiting) => waiting.For switch
    {
        WaitingFor.FirstLayer => "first layer",
        WaitingFor.Recut => $"{Listed(waiting.Blocks)} to be recut",
        WaitingFor.Reading => $"{Listed(waiting.Blocks)} to be read",
        WaitingFor.Block => $"a block for {Places(waiting)}",
        WaitingFor.NextLayer => $"next layer {Places(waiting)}",
        WaitingFor.Countersignature => $"signature under {Listed(waiting.Blocks)}",
        _ => "repair and closing",
    };

    /// <summary>Who it waits for.</summary>
    internal static string Whom(Waiting waiting) =>
        waiting.For is WaitingFor.Recut or WaitingFor.Block ? "histotech" : "surgeon";

    /// <summary>Where the margins stand.</summary>
    internal static string Of(CaseState state) => state switch
    {
        CaseState.NoTissue => "No layer taken",
        CaseState.AwaitingReadings => "Awaiting readings",
        CaseState.TumourOutstanding => "Tumour outstanding",
        _ => "Cleared",
    };

    /// <summary>How a case ended.</summary>
    internal static string Of(CaseOutcome outcome) => outcome switch
    {
        CaseOutcome.Cleared => "Cleared",
        CaseOutcome.StoppedWithTumour => "Stopped with tumour",
        _ => "Continues later",
    };

    /// <summary>A plane.</summary>
    internal static string Of(AnatomicalPlane plane) => plane == AnatomicalPlane.SubcutaneousFat ? "subcutaneous fat" : EnumNames<AnatomicalPlane>.Of(plane);

    /// <summary>How a wound is closed.</summary>
    internal static string Of(RepairKind repair) => repair switch
    {
        RepairKind.SecondIntention => "second intention",
        RepairKind.SideToSide => "side to side",
        _ => EnumNames<RepairKind>.Of(repair),
    };

    /// <summary>A margin.</summary>
    internal static string Of(Margin margin) => margin == Margin.Peripheral ? "edge" : "floor";

    /// <summary>A length of time as one waits it, for example <c>1 h 05 min</c>.</summary>
    internal static string Of(TimeSpan time) => time.TotalDays >= 1
        ? FormattableString.Invariant($"{(int)time.TotalDays} d {time.Hours} h")
        : time.TotalHours >= 1
            ? FormattableString.Invariant($"{(int)time.TotalHours} h {time.Minutes:00} min")
            : FormattableString.Invariant($"{Math.Max(0, (int)time.TotalMinutes)} min");

    /// <summary>A site, for example <c>left, alar crease, C44.3</c>.</summary>
    internal static string Of(Site site) =>
        string.Join(", ", new[] { site.Side is { } side and not BodySide.NotApplicable ? EnumNames<BodySide>.Of(side) : null, site.Detail, site.Code }.OfType<string>());

    /// <summary>The alert that stage 1 was recorded before two people confirmed the site; null where they had, or there is no stage.</summary>
    internal static MarginAlert? UnconfirmedSiteOf(SurgicalCase surgicalCase) =>
        surgicalCase.Stages is [var first, ..] ? first.Alerts.FirstOrDefault(alert => alert.Code == AlertCode.SiteNotConfirmed) : null;

    /// <summary>A moment on the clinic's clock.</summary>
    internal static string Of(ClinicalTime time) => time.ToDateTimeOffset().ToString("yyyy-MM-dd HH:mm", System.Globalization.CultureInfo.InvariantCulture);

    private static string Places(Waiting waiting) =>
        string.Join(", ", waiting.Places.Select(place => place.Margin == Margin.Peripheral ? place.Region.ToString() : $"floor {place.Region}"));

    private static string Listed(IReadOnlyList<string> labels) => string.Join(", ", labels);
}
