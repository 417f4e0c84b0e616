using StagedMargins.Core.Care;
using StagedMargins.Core.Wording;

namespace StagedMargins.Drawing.Documents;

/// <summary>Local anaesthetic: every dose, what was entered wrongly, and the total beside the label maximum.</summary>
internal static class AnaestheticSection
{
    private static readonly (string, double)[] Columns =
        [("No.", 0.05), ("Given", 0.2), ("Agent", 0.28), ("Volume", 0.09), ("Amount", 0.09), ("Share", 0.1), ("Entered", 0.19)];

    internal static void Write(PageFlow flow, RecordPrintout print)
    {
        var (surgicalCase, total) = (print.Case, print.Case.Anaesthetic);
        flow.Section("Local anaesthetic");
        if (surgicalCase.Doses.Count == 0)
        {
            flow.Write("None entered.");
            return;
        }

        if (total.Level == AnaestheticLevel.None)
        {
            flow.Write($"Total: {total.Sentence()}");
        }
        else
        {
            flow.Loud(total.Sentence());
        }

        flow.Write("Added up over all stages, with nothing deducted for time passed; shares are of the label maximum for that agent. Label maxima are for adults; the surgeon decides.");
        flow.Down(PageFlow.Gap / 2);
        Rows.Write(flow, Columns, surgicalCase.Doses.SelectMany(dose => RowsOf(print, dose)));
        foreach (var maximum in surgicalCase.Doses.Where(dose => dose.Void is null).Select(dose => LabelMaximum.For(dose.Agent, dose.Adrenaline)).Distinct())
        {
            flow.Write(FormattableString.Invariant(
                $"Maximum of {Name(maximum.Agent, maximum.Adrenaline)}: {maximum.MgPerKg:0.##} mg/kg, at most {maximum.MostMg} mg; for this patient {maximum.For(surgicalCase.Facts.WeightGrams):0.#} mg ({maximum.Source})."));
        }
    }

    private static IEnumerable<Row> RowsOf(RecordPrintout print, Dose dose)
    {
        var maximum = LabelMaximum.For(dose.Agent, dose.Adrenaline).For(print.Case.Facts.WeightGrams);
        yield return new Row(
            [
                $"{dose.Number}",
                dose.GivenAt.InWords(),
                FormattableString.Invariant($"{Name(dose.Agent, dose.Adrenaline)}, {dose.Percent:0.###} %"),
                FormattableString.Invariant($"{dose.VolumeMl:0.###} mL"),
                FormattableString.Invariant($"{dose.Mg:0.##} mg"),
                FormattableString.Invariant($"{dose.Mg / maximum * 100:0.#} %"),
                $"{dose.RecordedAt.InWords()}, {print.Who(dose.RecordedById)}",
            ],
            dose.Void is not null);
        if (dose.Void is { } said)
        {
            yield return new Row(["", "", $"VOID: kept, but does not count. By {print.Who(said.ById)}, {said.At.InWords()}. Reason: {said.Reason}"]);
        }
    }

    private static string Name(LocalAnaesthetic agent, bool adrenaline) => $"{Terms.Of(agent)} {(adrenaline ? "with adrenaline" : "plain")}";
}
