using StagedMargins.Core;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;

namespace StagedMargins.Drawing.Documents;

/// <summary>When each layer was taken, received, ready and read, and how long that took.</summary>
internal static class TimesSection
{
    private static readonly (string, double)[] Columns =
        [("Stage", 0.08), ("Layer taken", 0.2), ("Received", 0.2), ("Slides ready", 0.2), ("Last block read", 0.2), ("Taken to read", 0.12)];

    internal static void Write(PageFlow flow, RecordPrintout print)
    {
        if (print.Case.Stages.Count == 0)
        {
            return;
        }

        flow.Section("Times and turnaround");
        flow.Write("Whole minutes since the step before; a dash where a time was not entered. Who entered them is listed with each stage.");
        flow.Down(PageFlow.Gap / 2);
        Rows.Write(flow, Columns, print.Case.Stages.Select(RowOf));
        foreach (var stage in print.Case.Stages.Where(stage => Turnaround.Of(stage).OutOfOrder))
        {
            flow.Loud($"Stage {stage.Number}: its times are out of order; check them.");
        }
    }

    private static Row RowOf(Stage stage)
    {
        var steps = Turnaround.Of(stage);
        return new Row(
        [
            $"{stage.Number}",
            stage.TakenAt.InWords(),
            Moment(stage.TimeOf(StageMoment.Received), steps.ToReceived),
            Moment(stage.TimeOf(StageMoment.SlidesReady), steps.ToSlidesReady),
            Moment(steps.ReadAt, steps.ToRead),
            steps.Whole is { } minutes ? $"{minutes} min" : "–",
        ]);
    }

    private static string Moment(ClinicalTime? time, int? minutes) =>
        time is { } known ? known.InWords() + (minutes is { } after ? $", +{after} min" : "") : "–";
}
