using StagedMargins.Core;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Screens;

/// <summary>What only pages say.</summary>
internal static class ScreenWords
{
    /// <summary>Who it waits for.</summary>
    internal static string Whom(PendingStep waiting) =>
        waiting.For is PendingStepKind.Recut or PendingStepKind.Block ? "histotech" : "surgeon";

    /// <summary>A length of time as one waits it, for example <c>1 h 05 min</c>.</summary>
    internal static string Of(TimeSpan time) => time.TotalDays >= 1
        ? FormattableString.Invariant($"{(int)time.TotalDays} d {time.Hours} h")
        : time.TotalHours >= 1
            ? FormattableString.Invariant($"{(int)time.TotalHours} h {time.Minutes:00} min")
            : FormattableString.Invariant($"{Math.Max(0, (int)time.TotalMinutes)} min");

    /// <summary>The alert that stage 1 was recorded before two people confirmed the site; null where they had, or there is no stage.</summary>
    internal static MarginAlert? UnconfirmedSiteOf(SurgicalCase surgicalCase) =>
        surgicalCase.Stages is [var first, ..] ? first.Alerts.FirstOrDefault(alert => alert.Code == AlertCode.SiteNotConfirmed) : null;

    /// <summary>A correction of a stage, for example <c>Stage 2 corrected on 2026-03-03 10:52 by …: rim 1:15–2:00 o'clock for rim 7:15–8:00 o'clock. Reason given: …</c></summary>
    internal static string Corrected(Stage stage, StageCorrection correction, ClinicPeople people) =>
        $"Stage {stage.Number} corrected on {Of(correction.At)} by {people.EmailOf(correction.ById)}: {correction.InWords()}. {Sentences.ReasonGiven(correction.Reason)}";

    /// <summary>A moment on the clinic's clock.</summary>
    internal static string Of(ClinicalTime time) => time.ToDateTimeOffset().ToString("yyyy-MM-dd HH:mm", System.Globalization.CultureInfo.InvariantCulture);
}
