using System.Globalization;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;
using StagedMargins.Drawing.Content;

namespace StagedMargins.Drawing.Documents;

/// <summary>Where the margins stand after the last stage, on the cumulative map and in numbers, and the defect.</summary>
internal static class MarginsSection
{
    private static (string, double)[] MarginColumns => [("", 0.2), (Terms.Of(Margin.Peripheral).Capitalised(), 0.4), (Terms.Of(Margin.Deep).Capitalised(), 0.4)];
    private static readonly (string, double)[] DefectColumns = [("Defect", 0.26), ("Length", 0.12), ("Width", 0.12), ("Area", 0.14), ("Plane", 0.16), ("From", 0.2)];

    internal static void Write(PageFlow flow, RecordPrintout print)
    {
        flow.NewPage();
        var surgicalCase = print.Case;
        var margins = print.Series.MarginsAfter(surgicalCase.Stages.Count);
        flow.Section($"Margins after {surgicalCase.Stages.Count} stage{(surgicalCase.Stages.Count == 1 ? "" : "s")}: {Standing.Of(surgicalCase, margins.State, surgicalCase.Stages.Count).InWords()}");
        foreach (var alert in margins.Alerts)
        {
            if (alert.Code == AlertCode.LeftBehind)
            {
                flow.Loud(alert.Message());
            }
            else
            {
                flow.Write(alert.Message());
            }
        }

        flow.Map(print.MapOf(surgicalCase.Stages.Count, cumulative: true), below =>
        {
            Rows.Write(below, MarginColumns,
            [
                Regions(Terms.Outstanding.Capitalised(), margin => margins[margin].Outstanding),
                Regions(Terms.Unread.Capitalised(), margin => margins[margin].Unread),
                Regions(Sentences.TargetOfNextLayer.Capitalised(), margins.Target),
                Regions(Terms.Of(FindingKind.Inflammation).Capitalised(), margin => margins[margin].Inflammation),
            ]);
            Sizes(below, print);
        });
    }

    private static Row Regions(string name, Func<Margin, MarginRegion> part) =>
        new([name, .. CaseMargins.Both.Select(margin => part(margin).InLabel())]);

    private static void Sizes(PageFlow flow, RecordPrintout print)
    {
        var surgicalCase = print.Case;
        if (print.Series.DefectAfter(surgicalCase.Stages.Count)?.Size is not { } size)
        {
            return;
        }

        var last = surgicalCase.MeasuredDefects is [.., var counting] ? counting : null;
        Rows.Write(flow, DefectColumns,
        [
            new Row(["Computed from the layers", MapWords.Millimetres(size.LengthMm), MapWords.Millimetres(size.WidthMm),
                string.Create(CultureInfo.InvariantCulture, $"{size.AreaMm2:0.0} mm²"), size.Plane is { } plane ? Terms.Of(plane) : "–", "the record"]),
            .. surgicalCase.MeasuredDefects.Select(measured => new Row(
                [
                    "Measured" + (measured.Reason is { } reason ? $" again. Reason: {reason}" : "") + (measured == last ? "" : " (CORRECTED)"),
                    $"{measured.Length}", $"{measured.Width}", "–", measured.Plane is { } deep ? Terms.Of(deep) : "–",
                    $"{print.Who(measured.RecordedById)}, {measured.RecordedAt.InWords()}",
                ],
                measured != last)),
        ]);
        if (last is null)
        {
            flow.Write("The defect has not been measured.");
        }
        else if (last.QuestionBeside(size) is { } question)
        {
            flow.Loud(question);
        }
    }
}
