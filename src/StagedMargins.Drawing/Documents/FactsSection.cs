using System.Globalization;
using StagedMargins.Core;
using StagedMargins.Core.Intake;
using StagedMargins.Drawing.Content;

namespace StagedMargins.Drawing.Documents;

/// <summary>What was known before the first layer.</summary>
internal static class FactsSection
{
    private static readonly (string, double)[] Columns = [("Fact", 0.28), ("As entered", 0.72)];

    internal static void Write(PageFlow flow, RecordPrint print)
    {
        var of = print.Case;
        flow.Section($"Record of case {of.CaseNumber}");
        flow.Write($"State of the margins: {Wording.Of(of.Margins(print.Overlap).State)}. {(of.Ending is null ? "The case is open." : Wording.Of(of.Ending) + ".")}", PageFlow.Strong);
        if (of.Head.Recall)
        {
            flow.Loud("RECALL: an amendment after the case was closed left its margins not clear.");
        }

        if (print.Fault is { } fault)
        {
            flow.Loud($"NOT INTACT: this record is not as it was written. {fault}");
        }

        flow.Down(PageFlow.Gap);
        Rows.Write(flow, Columns, [.. Facts(print), .. OfTumour(of.Facts.Tumour)]);
    }

    private static IEnumerable<Row> Facts(RecordPrint print)
    {
        var (of, facts) = (print.Case, print.Case.Facts);
        yield return Fact("Patient reference", of.PatientRef);
        yield return Fact("Surgeon", of.SurgeonId is null ? null : print.Who(of.SurgeonId));
        yield return Fact("Opened", $"{Wording.Of(of.OpenedAt)}, by {print.Who(of.OpenedById)}");
        yield return Fact("Site", Wording.Of(facts.Site));
        yield return Fact("12 o'clock points", of.TwelveOClock);
        yield return Fact("Area class", facts.AreaClass?.ToString());
        yield return Fact("Size before surgery", facts.PreOperative is { } size ? $"{size.Length} × {size.Width}, long axis at {size.Axis}" : null);
        yield return Fact("Weight", facts.WeightGrams is { } grams ? string.Create(CultureInfo.InvariantCulture, $"{grams / 1000m:0.###} kg") : null);
        yield return Fact("Immunosuppressed", YesNo(facts.Immunosuppressed));
        yield return Fact("Prior radiation of the site", YesNo(facts.PriorRadiation));
        yield return Fact("Indications", facts.Indications.Count == 0 ? null : string.Join("; ", facts.Indications));
    }

    private static IEnumerable<Row> OfTumour(Tumour tumour)
    {
        yield return Fact("Tumour (ICD-O-3 morphology)", tumour.Morphology);
        yield return Fact("Recurrent", YesNo(tumour.Recurrent));
        yield return Fact("Differentiation", Word(tumour.Differentiation));
        yield return Fact("Border", tumour.Border switch { null => null, TumourBorder.WellDefined => "well defined", _ => "poorly defined" });
        yield return Fact("Depth of invasion", tumour.Depth?.ToString());
        yield return Fact("Deepest plane", tumour.DeepestPlane is { } plane ? Wording.Of(plane) : null);
        yield return Fact("Perineural invasion", tumour.Perineural is { } nerve
            ? $"{YesNo(nerve.Present)}{(nerve.CalibreMm is { } calibre ? $", nerve of {calibre}" : "")}{(nerve.Named is { } named ? named ? ", named nerve" : ", unnamed nerve" : "")}"
            : null);
        yield return Fact("Bone", tumour.Bone switch
        {
            null => null,
            BoneInvolvement.None => "none",
            BoneInvolvement.MinorErosion => "minor erosion",
            BoneInvolvement.GrossInvasion => "gross invasion",
            _ => "skull base",
        });
        yield return Fact("Positive nodes", YesNo(tumour.PositiveNodes));
        yield return Fact("Unresectable", YesNo(tumour.Unresectable));
        yield return Fact("Basal cell naevus syndrome", YesNo(tumour.NevoidBasalCellSyndrome));
    }

    // A fact that was not asked is not a "no".
    private static Row Fact(string name, string? value) => new([name, value ?? "not entered"]);

    private static string? YesNo(bool? value) => value switch { true => "yes", false => "no", null => null };

    private static string? Word<T>(T? value)
        where T : struct, Enum => value is { } known ? Words<T>.Of(known) : null;
}
