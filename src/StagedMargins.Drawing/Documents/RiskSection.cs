using StagedMargins.Core.Risk;
using StagedMargins.Core.Wording;

namespace StagedMargins.Drawing.Documents;

/// <summary>What the published rules say of the tumour now, and what they said each time facts were entered.</summary>
internal static class RiskSection
{
    private static readonly (string, double)[] Columns = [("Assessed", 0.2), ("AJCC 8, head and neck", 0.28), ("Brigham and Women's", 0.28), ("Area", 0.08), ("Rules", 0.16)];

    internal static void Write(PageFlow flow, RecordPrintout print)
    {
        var now = RiskAssessment.Of(print.Case, print.Boundary);
        flow.Section("Risk, from the facts entered and the slides read");
        flow.Write("Calculated, not a diagnosis. A fact that was not entered does not raise a T category.");
        flow.Down(PageFlow.Gap / 2);
        Rows.Write(flow, Columns,
        [
            RowOf($"at printing, {print.PrintedAt.InWords()}", now),
            .. print.Case.Assessments.Select(kept => RowOf($"kept, {kept.AssessedAt.InWords()}", kept.Assessment)),
        ]);
        foreach (var sentence in now.Conflicts().Select(conflict => conflict.InWords()).Concat(now.Prompts.Select(prompt => prompt.InWords())))
        {
            flow.Write(sentence);
        }
    }

    private static Row RowOf(string when, RiskAssessment risk) => new(
        [when, RiskSentences.Of(risk.Ajcc8), RiskSentences.Of(risk.BrighamWomens), risk.AreaClass?.ToString() ?? Terms.NotEntered, $"{risk.RuleVersion}; {Terms.Of(risk.Boundary)}"]);
}
