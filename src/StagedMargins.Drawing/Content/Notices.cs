using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;
using StagedMargins.Drawing.Lettering;
using StagedMargins.Drawing.Primitives;

namespace StagedMargins.Drawing.Content;

/// <summary>How loud a notice is.</summary>
internal enum Severity
{
    /// <summary>An alert: red, and framed.</summary>
    Alert,

    /// <summary>Something to check before going on.</summary>
    Warning,

    /// <summary>Information.</summary>
    Information,
}

/// <summary>Something to be said above the face.</summary>
/// <param name="Role">What it is.</param>
/// <param name="Severity">How loud.</param>
/// <param name="Text">The words.</param>
internal sealed record Notice(SceneRole Role, Severity Severity, string Text)
{
    /// <summary>The notices of a map, loudest first: where there are many, only the first are drawn in full.</summary>
    internal static IReadOnlyList<Notice> Of(MapContent content) => [.. Each(content).OrderBy(notice => notice.Severity)];

    private static IEnumerable<Notice> Each(MapContent content)
    {
        var surgicalCase = content.Case;
        if (content.Request.AsOf is { } asOf)
        {
            yield return new Notice(SceneRole.Notice, Severity.Alert, asOf);
        }

        if (surgicalCase.Stages.Count > content.Stages.Count)
        {
            yield return new Notice(SceneRole.Notice, Severity.Alert, Sentences.EarlierState(content.Stages.Count, surgicalCase.Stages.Count));
        }

        foreach (var alert in content.Margins.Alerts.Where(alert => LoudnessOf(alert.Code) == Severity.Alert))
        {
            yield return new Notice(SceneRole.Alert, Severity.Alert, alert.Message());
        }

        if (surgicalCase.ClearedNow == false)
        {
            yield return new Notice(SceneRole.Alert, Severity.Alert, Sentences.ClosedAsClear);
        }

        foreach (var review in surgicalCase.OpenReviews())
        {
            yield return new Notice(review.Code == ReviewCode.Recall ? SceneRole.Recall : SceneRole.Alert, Severity.Alert, review.Message());
        }

        if (surgicalCase.IsSiteChangedSinceConfirmed())
        {
            yield return new Notice(SceneRole.Alert, Severity.Alert, Sentences.SiteChangedSinceConfirmed);
        }

        foreach (var alert in content.Margins.Alerts.Where(alert => LoudnessOf(alert.Code) != Severity.Alert))
        {
            yield return new Notice(SceneRole.Alert, LoudnessOf(alert.Code), alert.Message());
        }

        if (Unsigned(content) is { Count: > 0 } unsigned)
        {
            yield return new Notice(SceneRole.Notice, Severity.Warning, Sentences.ToBeCountersigned(string.Join(", ", unsigned)));
        }

        if (!MapTypeface.CanWrite(surgicalCase.TwelveOClock))
        {
            yield return new Notice(SceneRole.Notice, Severity.Warning,
                "Some letters of the words for 12 o'clock can't be drawn here; read them in the case.");
        }

        if (surgicalCase.Ending is { } ending)
        {
            yield return new Notice(SceneRole.Ending, Severity.Information, ending.InWords() + ".");
        }
        else if (surgicalCase.Pause?.ContinuesOn is { } day)
        {
            yield return new Notice(SceneRole.Ending, Severity.Information, Sentences.PausedUntil(day.InWords()));
        }
    }

    private static Severity LoudnessOf(AlertCode code) => code switch
    {
        AlertCode.LeftBehind => Severity.Alert,
        AlertCode.BeyondTarget => Severity.Information,
        _ => Severity.Warning,
    };

    private static List<string> Unsigned(MapContent content) =>
    [
        .. content.Case.ToBeCountersigned()
            .Where(entry => content.Request.Cumulative ? entry.Stage.Number <= content.Stages.Count : entry.Stage == content.Stage)
            .GroupBy(entry => entry.Stage.Number)
            .Select(stage => $"stage {stage.Key} block{(stage.Count() == 1 ? "" : "s")} {string.Join(" ", stage.Select(entry => entry.Block.Label))}"),
    ];
}
