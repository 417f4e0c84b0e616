using StagedMargins.Core;
using StagedMargins.Core.Risk;
using StagedMargins.Drawing.Content;

namespace StagedMargins.Drawing.Documents;

/// <summary>What the published rules say of the tumour now, and what they said each time facts were entered.</summary>
internal static class RiskSection
{
    private static readonly (string, double)[] Columns = [("Assessed", 0.2), ("AJCC 8, head and neck", 0.28), ("Brigham and Women's", 0.28), ("Area", 0.08), ("Rules", 0.16)];

    internal static void Write(PageFlow flow, RecordPrint print)
    {
        var now = RiskAssessment.Of(print.Case, print.Boundary);
        flow.Section("Risk by the facts entered");
        flow.Write("Calculated, not a diagnosis. T categories are for squamous tumours; a fact that nobody entered does not raise them.");
        flow.Down(PageFlow.Gap / 2);
        Rows.Write(flow, Columns,
        [
            Of($"at printing, {Wording.Of(print.PrintedAt)}", now),
            .. print.Case.Assessments.Select(kept => Of($"kept, {Wording.Of(kept.AssessedAt)}", kept.Assessment)),
        ]);
        foreach (var prompt in now.Prompts)
        {
            flow.Write(prompt.Message);
        }
    }

    private static Row Of(string when, RiskAssessment risk) => new(
        [when, RiskSentences.Of(risk.Ajcc8), RiskSentences.Of(risk.BrighamWomens), risk.AreaClass?.ToString() ?? "not said", $"{risk.RuleVersion}; exactly 2 or 4 cm {EnumNames<SizeBoundary>.Spaced(risk.Boundary)}"]);
}
